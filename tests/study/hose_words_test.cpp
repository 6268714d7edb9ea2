#include <lowspot/study/hose_words.hpp>

#include "catch.hpp"

using namespace lowspot;
using namespace lowspot::study;

namespace {
HoseTest usual() {
  HoseTest test;
  test.place = "the lowest point of low spot 1";
  test.flow = 5 * 6.30902e-5;
  test.duration = 1200;
  test.given = 100 * 0.00378541;
  test.first_water = 420;
  test.held_at_first_water = 20 * 0.00378541;
  test.last_flow = 4 * 6.30902e-5;
  test.steady = true;
  test.outlet_stops = 900;
  test.puddle_gone = 0;
  test.by_outlets = 70 * 0.00378541;
  test.in_drain = 10 * 0.00378541;
  test.to_soil = 20 * 0.00378541;
  test.capacity = 50 * 6.30902e-5;
  return test;
}
} // namespace

TEST_CASE("what to expect, in the units of the yard") {
  site::Site site;
  HoseTest test = usual();
  describe_hose_test(site, test);
  REQUIRE(test.says.size() == 4);
  CHECK_THAT(test.says[0],
             ContainsSubstring("5 gal/min for 20 minutes") && ContainsSubstring("beside the trench"));
  CHECK_THAT(test.says[1], ContainsSubstring("7 minutes") && ContainsSubstring("20 gal") &&
                               ContainsSubstring("4 gal/min") && ContainsSubstring("80 %") &&
                               ContainsSubstring("steady"));
  CHECK_THAT(test.says[2], ContainsSubstring("15 minutes") && ContainsSubstring("gone at once"));
  CHECK_THAT(test.says[3],
             ContainsSubstring("70 gal left") && ContainsSubstring("20 gal went into the ground"));
  CHECK_THAT(test.proves[1], ContainsSubstring("10 % of the 50 gal/min"));
  site.units = "m";
  describe_hose_test(site, test);
  CHECK_THAT(test.says[3], ContainsSubstring("L left the yard"));
}

TEST_CASE("an outlet in the yard is not said to let nothing out") {
  const site::Site site;
  HoseTest test = usual();
  test.through_outlets = test.over_edges = test.by_outlets;
  test.by_outlets = 0;
  describe_hose_test(site, test);
  CHECK_THAT(test.says[3], !ContainsSubstring("left the yard by the outlet") &&
                               ContainsSubstring("70 gal ran over the edge") &&
                               ContainsSubstring("The outlet lies in the yard: 70 gal came out of it."));
}

TEST_CASE("what is not seen is said to be") {
  const site::Site site;
  HoseTest test = usual();
  test.outlet_stops = std::numeric_limits<double>::quiet_NaN();
  test.puddle_gone = test.outlet_stops;
  describe_hose_test(site, test);
  CHECK_THAT(test.says[2], ContainsSubstring("longer than was watched") && ContainsSubstring("still there"));
  test.first_water = std::numeric_limits<double>::quiet_NaN();
  describe_hose_test(site, test);
  CHECK_THAT(test.says[1], ContainsSubstring("No water"));
  test.to_soil = -5 * 0.00378541;
  describe_hose_test(site, test);
  CHECK_THAT(test.says[3], ContainsSubstring("gave 5 gal more"));
}

TEST_CASE("a pit that stays dry does not rise to nothing") {
  const site::Site site;
  HoseTest test = usual();
  test.first_water = test.outlet_stops = std::numeric_limits<double>::quiet_NaN();
  test.well = "pit";
  test.well_whole = 1.6;
  describe_hose_test(site, test);
  CHECK_THAT(test.says[1],
             ContainsSubstring("hardly any water comes to 'pit'") && !ContainsSubstring("rises to"));
  test.well_depth = 0.4;
  describe_hose_test(site, test);
  CHECK_THAT(test.says[1], ContainsSubstring("the water in 'pit' rises to"));
}

TEST_CASE("a pump that has run once is no reason to speak of what comes out in the end") {
  const site::Site site;
  HoseTest test = usual();
  test.steady = false;
  test.cycles = 1;
  describe_hose_test(site, test);
  CHECK_THAT(test.says[1], ContainsSubstring("has run once") && !ContainsSubstring("At the end"));
}

TEST_CASE("of several outlets each is told by its name") {
  const site::Site site;
  HoseTest test = usual();
  const double never = std::numeric_limits<double>::quiet_NaN();
  test.outlets = {
      {"ditch", 420, test.by_outlets, false}, {"pump pit", never, 0, false}, {"soakaway", never, 0, true}};
  describe_hose_test(site, test);
  CHECK(outlet_words(test) == "the outlet 'ditch'");
  CHECK_THAT(test.says[1], ContainsSubstring("First water at the outlet 'ditch' after about 7 minutes") &&
                               ContainsSubstring("None comes out of 'pump pit': to test") &&
                               !ContainsSubstring("soakaway"));
  CHECK_THAT(test.says[2], ContainsSubstring("the outlet 'ditch' runs on"));
  CHECK_THAT(test.says[3], ContainsSubstring("left the yard by the outlet 'ditch'"));
  CHECK_THAT(test.proves[0], ContainsSubstring("to the outlet 'ditch' is open"));
  test.outlets[1].first_water = 120;
  test.first_water = 120;
  describe_hose_test(site, test);
  CHECK(outlet_words(test) == "the outlets");
  CHECK_THAT(test.says[1], ContainsSubstring("First water at the outlet 'pump pit' after about 2 minutes") &&
                               ContainsSubstring("At 'ditch' it comes after about 7 minutes.") &&
                               ContainsSubstring("comes out of the outlets together") &&
                               !ContainsSubstring("None comes"));
  CHECK_THAT(test.says[2], ContainsSubstring("the outlets run on"));
  test.outlets[0].first_water = test.outlets[1].first_water = test.first_water = never;
  describe_hose_test(site, test);
  CHECK_THAT(test.says[1], ContainsSubstring("No water comes out of any outlet"));
}

TEST_CASE("a pit that stays empty holds nothing, not so many litres of it") {
  site::Site site;
  site.units = "m";
  HoseTest test = usual();
  test.well = "pit";
  describe_hose_test(site, test);
  CHECK_THAT(test.says[3], ContainsSubstring("nothing in 'pit'"));
  test.in_wells = 0.02;
  describe_hose_test(site, test);
  CHECK_THAT(test.says[3], ContainsSubstring("20 L in 'pit'"));
}

TEST_CASE("a weep hole is no sign to look for") {
  const site::Site site;
  HoseTest test = usual();
  test.outlets = {{"lawn", 420, test.by_outlets, false, true}};
  test.weep_first = 180, test.weep_stops = 2940, test.through_weeps = 15 * 0.00378541;
  describe_hose_test(site, test);
  CHECK_THAT(test.says[1], ContainsSubstring("First water at the lid of the outlet after about 7 minutes"));
  CHECK_THAT(test.says[2], ContainsSubstring("runs on for about 15 minutes"));
  CHECK_THAT(test.says[3], ContainsSubstring("from 3 minutes on, 15 gal in all") &&
                               ContainsSubstring("about 49 minutes") && ContainsSubstring("not seen"));
  CHECK_THAT(test.says[3], !ContainsSubstring("coming up beside it"));
  test.over_edges = test.through_weeps; // it is met again at the edge: the gravel did not swallow it
  describe_hose_test(site, test);
  CHECK_THAT(test.says[3], ContainsSubstring("It is computed as coming up beside it"));
}

TEST_CASE("what the pipe carries is said of the one that ends where the water is watched") {
  const site::Site site;
  HoseTest test = usual();
  test.capacity = 118 * 0.00378541 / 60;
  describe_hose_test(site, test);
  CHECK_THAT(test.proves[1], ContainsSubstring("that the pipe to the outlet carries when full"));
  test.well = "pit", test.well_depth = 0.7, test.well_whole = 1.8;
  describe_hose_test(site, test);
  CHECK_THAT(test.proves[1], ContainsSubstring("that the pipe to 'pit' carries when full"));
}

TEST_CASE(
    "a drain that ends in a dry well has no outlet that lets nothing out, and its test proves the way") {
  const site::Site site;
  HoseTest test = usual();
  test.outlets = {{"pit", std::numeric_limits<double>::quiet_NaN(), 0, true, false}};
  test.first_water = test.outlet_stops = std::numeric_limits<double>::quiet_NaN();
  test.by_outlets = 0;
  test.well = "pit", test.well_depth = 0.7, test.well_whole = 1.8;
  test.in_drain = 80 * 0.00378541, test.in_wells = 70 * 0.00378541;
  describe_hose_test(site, test);
  CHECK_THAT(test.says[3], !ContainsSubstring("left the yard") && ContainsSubstring("70 gal in 'pit'"));
  CHECK_THAT(test.proves[0], ContainsSubstring("the way from there to 'pit' is open"));
}

TEST_CASE("a hose that lies on the trench already is not to be laid there") {
  const site::Site site;
  HoseTest test = usual();
  test.first_water = site::not_given;
  for (const bool over : {false, true}) {
    test.over_trench = over;
    for (const double weep : {site::not_given, 60.0}) {
      test.weep_first = weep;
      describe_hose_test(site, test);
      INFO(test.says[1]);
      CHECK((test.says[1].find("ay the hose on the trench") == std::string::npos) == over);
      CHECK_THAT(test.says[1], ContainsSubstring("more water") || ContainsSubstring("longer"));
    }
  }
  test.at_grate = true, test.over_trench = false, test.weep_first = site::not_given;
  describe_hose_test(site, test);
  CHECK_THAT(test.says[1], !ContainsSubstring("trench"));
}
