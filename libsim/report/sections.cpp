#include <lowspot/report/sections.hpp>

#include <algorithm>
#include <stdexcept>

namespace lowspot::report {

// Each is defined in section_NAME.cpp.
std::string verdict_section(const Page& page);
std::string options_section(const Page& page);
std::string plausible_section(const Page& page);
std::string maps_section(const Page& page);
std::string swipe_section(const Page& page);
std::string player_section(const Page& page);
std::string areas_section(const Page& page);
std::string shares_section(const Page& page);
std::string soggy_section(const Page& page);
std::string beds_section(const Page& page);
std::string drains_section(const Page& page);
std::string earthworks_section(const Page& page);
std::string digging_section(const Page& page);
std::string flows_section(const Page& page);
std::string checks_section(const Page& page);
std::string balance_section(const Page& page);
std::string low_spots_section(const Page& page);
std::string holes_section(const Page& page);
std::string outlets_section(const Page& page);
std::string assumptions_section(const Page& page);
std::string limits_section(const Page& page);

const std::vector<Section>& sections() {
  static const std::vector<Section> all = {
      {"verdict", "", Reader::owner, verdict_section},
      {"options", "Every option side by side", Reader::owner, options_section},
      {"plausible", "How sure the answer is", Reader::owner, plausible_section},
      {"maps", "Before and after", Reader::owner, maps_section},
      {"swipe", "One map, two designs", Reader::owner, swipe_section, false},
      {"player", "The storm and the drying", Reader::owner, player_section, false},
      {"areas", "How long each place stays wet", Reader::owner, areas_section},
      {"shares", "Where the water comes from", Reader::owner, shares_section},
      {"soggy", "Water in the ground", Reader::owner, soggy_section, false},
      {"beds", "What the beds feel", Reader::owner, beds_section},
      {"drains", "The drain at work", Reader::crew, drains_section},
      {"earthworks", "Earth to move", Reader::crew, earthworks_section},
      {"digging", "Before anyone digs", Reader::crew, digging_section},
      {"flows", "Where the water goes", Reader::permit_desk, flows_section},
      {"checks", "Checks: pass, fail, unknown", Reader::permit_desk, checks_section},
      {"balance", "Every drop accounted for", Reader::permit_desk, balance_section, false},
      {"low-spots", "Low spots of the ground", Reader::permit_desk, low_spots_section, false},
      {"holes", "What the test holes say", Reader::permit_desk, holes_section, false},
      {"outlets", "Where the water could go by gravity", Reader::permit_desk, outlets_section, false},
      {"assumptions", "What was assumed", Reader::permit_desk, assumptions_section},
      {"limits", "What this is not", Reader::permit_desk, limits_section},
  };
  return all;
}

const Section& section(const std::string& id) {
  const auto found =
      std::find_if(sections().begin(), sections().end(), [&](const Section& each) { return each.id == id; });
  if (found == sections().end()) throw std::out_of_range("no section " + id);
  return *found;
}

std::string reader_title(Reader reader) {
  switch (reader) {
  case Reader::owner:
    return "For the owner: what changes";
  case Reader::crew:
    return "For the crew: what is built";
  case Reader::permit_desk:
    return "For the permit desk and the neighbours";
  }
  return "";
}

} // namespace lowspot::report
