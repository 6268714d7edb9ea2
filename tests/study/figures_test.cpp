#include "catch.hpp"

#include <lowspot/study/figures.hpp>

using namespace lowspot;

namespace {
results::DesignRecord record() {
  results::DesignRecord one;
  results::AreaRecord patio, shed;
  patio.name = "patio", patio.standing_hours_after_rain = 30, patio.soggy_hours_after_rain = 40;
  patio.clear_within_target = false;
  patio.still_soggy = true;
  shed.name = "shed", shed.judged = false;
  one.areas = {patio, shed};
  results::DrainRecord leg, carrier;
  leg.name = "leg", leg.peak_flow = 1e-4;
  carrier.name = "carrier", carrier.peak_flow = 2e-4;
  one.drains = {leg, carrier};
  one.edges = {{"west", 1e-3, 2}};
  one.outlets = {{"lawn pop-up", 1e-4, 3}};
  results::BedRecord bed;
  bed.name = "bed", bed.longest_soggy_hours = 50, bed.spell_open = true;
  one.beds = {bed};
  return one;
}
} // namespace

TEST_CASE("the numbers that matter: judged areas, the last run, sides") {
  const auto figures = study::figures_of(record(), {"carrier"}, 0);
  const auto find = [&](const std::string& what) {
    const study::Figure* found = nullptr;
    int times = 0;
    for (const study::Figure& one : figures)
      if (one.what == what) found = &one, ++times;
    CHECK(times == 1);
    return *found;
  };
  CHECK(find("standing_hours").value == 30);
  CHECK(find("standing_hours").place == "patio");
  CHECK_FALSE(find("standing_hours").open);
  CHECK(find("soggy_hours").open);
  CHECK(find("peak_flow").value == 2e-4);
  CHECK(find("longest_soggy_roots").value == 50);
  CHECK(find("longest_soggy_roots").open); // the spell outlasted the run
  CHECK(find("edge_volume").value == 2);
  CHECK(find("drained_volume").value == 3); // by the books none of it has left the yard
}

TEST_CASE("without areas the wettest spot counts, and it may not have ended") {
  results::DesignRecord one;
  one.standing_hours = {3, 12};
  one.still_standing = true;
  const auto figures = study::figures_of(one, {}, 0);
  CHECK(figures[0].place == "the wettest spot");
  CHECK(figures[0].value == 12);
  CHECK(figures[0].open);
}

TEST_CASE("the last runs of a design are those that lead to an outlet") {
  site::Design design;
  site::Run leg, carrier;
  leg.name = "leg", leg.to = "tee";
  carrier.name = "carrier", carrier.to = "outlet";
  design.runs = {leg, carrier};
  site::Outlet outlet;
  outlet.name = "outlet";
  design.outlets = {outlet};
  CHECK(study::runs_to_outlets(&design) == std::vector<std::string>{"carrier"});
  CHECK(study::runs_to_outlets(nullptr).empty());
  design.runs[1].to.clear();
  CHECK(study::runs_to_outlets(&design).size() == 2);
}
