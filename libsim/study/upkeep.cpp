#include <lowspot/study/upkeep.hpp>

#include <algorithm>
#include <map>

#include <lowspot/yard/tied_in.hpp>

namespace lowspot::study {
namespace {

std::string of_cap(const site::Run& run) {
  if (run.cap.of_topsoil) return "mow over the trench; a lid of soil seals slowly and nothing shows it";
  if (run.cap.name.find("mulch") != std::string::npos)
    return "renew the mulch over the stone each year, keep soil out of it";
  if (run.cap.of_stone || run.cap.name.find("stone") != std::string::npos)
    return "rake leaves and silt off the stone twice a year";
  return "keep what lies over the stone open";
}

std::string of_outlet(const std::string& kind) {
  static const std::map<std::string, std::string> words = {
      {"daylight", "keep the outlet clear of grass and animals, look at it after storms"},
      {"submerged", "look at the outlet when the water is low"},
      {"pop-up", "lift and clean the pop-up twice a year, and before frost"},
      {"dry well", "keep leaves and silt out of the dry well: it cannot be cleaned"},
      {"pump", "test the pump before the wet season, have it serviced, think of a power cut"}};
  const auto known = words.find(kind);
  return known == words.end() ? "look at the outlet after storms" : known->second;
}

} // namespace

std::vector<std::string> upkeep_of(const site::Site& site, const site::Design& design) {
  std::vector<std::string> words;
  const auto add = [&](const std::string& phrase) {
    if (std::find(words.begin(), words.end(), phrase) == words.end()) words.push_back(phrase);
  };
  for (const site::Run& run : design.runs)
    if (run.has_trench) add(of_cap(run));
  if (!design.inlets.empty()) add("clear the grates after leaf fall, empty the boxes twice a year");
  if (!design.channels.empty()) add("lift the channel's grating and flush it twice a year");
  for (const site::Outlet& outlet : design.outlets) add(of_outlet(outlet.kind));
  if (!yard::tied_in(site, design).empty()) add("keep gutters and leaf screens clean");
  for (const site::Regrade& regrade : design.regrades)
    add(regrade.kind == "swale" ? "mow the swale, clear silt out of it"
                                : "make good where new ground settles in the first year");
  if (!design.basins.empty()) add("weed the rain garden, clear its overflow");
  if (!design.amends.empty()) add("keep off loosened soil when it is wet; top it up every few years");
  return words;
}

} // namespace lowspot::study
