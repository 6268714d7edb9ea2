#include "catch.hpp"
#include "simple_yard.hpp"

#include <lowspot/study/as_dug.hpp>

using namespace lowspot;
using study::AsDugCost;

TEST_CASE("the cost of a badly dug trench is said in hours and against the target") {
  CHECK_THAT(study::sentence(AsDugCost{"bed", 5, 5.1, true, true}), ContainsSubstring("no longer"));
  CHECK_THAT(study::sentence(AsDugCost{"bed", 5, 9, true, true}), ContainsSubstring("still met"));
  CHECK_THAT(study::sentence(AsDugCost{"bed", 20, 30, true, false}), ContainsSubstring("missed"));
  CHECK_THAT(study::sentence(AsDugCost{"bed", 20, 30, false, false}), ContainsSubstring("'bed' stands"));
  CHECK_THAT(study::sentence(AsDugCost{"bed", 12, 12, false, false, true, true}),
             ContainsSubstring("as dug and as designed, 'bed' still stands when the simulated time ends"));
  CHECK_THAT(study::sentence(AsDugCost{"bed", 0, 9, true, true}),
             ContainsSubstring("stands about 9 hours after the rain instead of only while it rains;"));
  const std::string ends = study::sentence(AsDugCost{"the wettest spot", 11.9, 12, true, false, false, true});
  CHECK_THAT(ends, ContainsSubstring(
                       "as dug, the wettest spot still stands when the simulated time ends; as designed "
                       "it stands about 12 hours after the rain: the target is missed"));
}

// A basin drained by a pipe through its rim: a hump that lifts the pipe above the floor keeps water standing.
TEST_CASE("a hump above the floor of a basin keeps water standing; the trench as designed costs nothing") {
  SimpleYard yard = simple_yard(12, 6, 0.5, [](double x, double) { return x < 4 ? 9.5 : 10.0; });
  yard.site.storm.pattern = "uniform";
  yard.site.storm.depth = 0.02;
  yard.site.storm.duration = 1800;
  yard.site.storm.dry = 4 * 3600;
  yard.site.target.clear_within = 2 * 3600;
  add_whole_area(yard, "basin");
  site::Design design = simple_drain(yard, 0.4);
  design.runs[0].inverts = {9.40, 9.30};
  site::Design dug = design;
  dug.as_dug = true;
  const study::AsDugCost same = study::cost_of_digging(yard.site, yard.ground, design, dug, "test", nullptr);
  CHECK_THAT(same.hours_dug, WithinAbs(same.hours_designed, 1e-9));
  dug.runs[0].path = {design.runs[0].path[0], {4.6, design.runs[0].path[0].y}, design.runs[0].path[1]};
  dug.runs[0].inverts = {9.40, 9.62, 9.30};
  const study::AsDugCost hump = study::cost_of_digging(yard.site, yard.ground, design, dug, "test", nullptr);
  CHECK(hump.hours_dug > hump.hours_designed + 0.5);
  // Without areas the same water is judged by the wettest spot.
  yard.site.areas.clear();
  yard.ground.areas.clear();
  const study::AsDugCost spot = study::cost_of_digging(yard.site, yard.ground, design, dug, "test", nullptr);
  CHECK(spot.area == "the wettest spot");
  CHECK(spot.hours_dug > spot.hours_designed + 0.5);
  yard.site.target.clear_within = 1800 * (spot.hours_dug + spot.hours_designed);
  const study::AsDugCost missed =
      study::cost_of_digging(yard.site, yard.ground, design, dug, "test", nullptr);
  CHECK(missed.designed_clears);
  CHECK_FALSE(missed.dug_clears);
}
