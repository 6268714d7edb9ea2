#include "catch.hpp"

#include <lowspot/report/diagnosis_words.hpp>

#include "report/sample_diagnosis.hpp"

using namespace lowspot::report;
using lowspot::study::Reach;

TEST_CASE("a low spot in a sentence or four") {
  auto all = sample::diagnosis();
  const Units units = units_for("ft");
  std::string text = diagnosis_headline(all, units);
  CHECK_THAT(text,
             ContainsSubstring("The long bed holds 150 gal, 2.4 in deep") &&
                 ContainsSubstring("spills over the lawn on its east side") &&
                 ContainsSubstring("fills with 0.79 in of rain on wet ground, 1.2 in as the ground starts") &&
                 ContainsSubstring("by gravity to the south edge") &&
                 ContainsSubstring("3.9 in of fall to spare"));
  all.low_spots[0].fed_by = {2, 3};
  all.low_spots[0].spot.spills_into = 4;
  all.low_spots[0].leaves_yard = false;
  text = spot_sentence(all, all.low_spots[0], units);
  CHECK_THAT(text, ContainsSubstring("what no. 2 and 3 spill into it") && ContainsSubstring("into no. 4") &&
                       ContainsSubstring("no water leaves the yard"));
  all.low_spots[0].spot.closed = true;
  all.low_spots[0].rain_to_fill = {};
  text = spot_sentence(all, all.low_spots[0], units);
  CHECK_THAT(text, ContainsSubstring("nothing leaves it") && ContainsSubstring("the ground takes it in"));
  all.low_spots.push_back(all.low_spots[0]);
  all.low_spots[1].spot.id = 2;
  CHECK(spot_name(all, all.low_spots[1]) == "the long bed (no. 2)");
  all.low_spots.clear();
  CHECK_THAT(diagnosis_headline(all, units), ContainsSubstring("no low spot"));
}

TEST_CASE("how an outlet is reached, or why not") {
  auto route = sample::diagnosis().low_spots[0].outlets[0];
  const Units units = units_for("m");
  CHECK(reach_text(route, units) == "by gravity, 100 mm to spare");
  route.margin = 0;
  CHECK(reach_text(route, units) == "by gravity, nothing to spare");
  route.margin = 0.0103; // 0.406 in: an outlet is not shot to hundredths
  CHECK(reach_text(route, units_for("ft")) == "by gravity, 0.4 in to spare");
  CHECK(fall_figure(0.348, units_for("ft")) == "13.7");
  route.shallow_end = 6.1;
  CHECK_THAT(outlet_sentence({route}, units),
             ContainsSubstring("Over the last 6.1 m before the outlet the pipe has less cover"));
  route.reach = Reach::too_little_fall;
  route.margin = -0.05;
  CHECK(reach_text(route, units) == "50 mm of fall missing");
  CHECK_THAT(outlet_sentence({route}, units),
             ContainsSubstring("No gravity outlet") && ContainsSubstring("50 mm"));
  route.reach = Reach::too_deep;
  route.deepest_cut = 1.9;
  CHECK(reach_text(route, units) == "only with a cut of 1.9 m");
  route.reach = Reach::shut_in;
  CHECK_THAT(outlet_sentence({route}, units), ContainsSubstring("buildings stand in every way"));
  CHECK_THAT(outlet_sentence({}, units), ContainsSubstring("nowhere to drain to"));
  CHECK(crosses_text(route, units) == "long bed 0.6 m; raised edging");
}

TEST_CASE("covers beyond the first few are summed up") {
  auto low = sample::diagnosis().low_spots[0];
  low.covers = {{"a", 30, false}, {"b", 20, false}, {"c", 2, false}, {"d", 1, false}};
  CHECK(covers_text(low, units_for("m"), 2) == "a 30 m\xc2\xb2; b 20 m\xc2\xb2; other 3 m\xc2\xb2");
}

TEST_CASE("hollows that nobody would dig for are gathered in one sentence") {
  auto all = sample::diagnosis();
  const Units units = units_for("ft");
  CHECK(small_spots_sentence(all, units).empty());
  auto small = all.low_spots[0];
  small.spot.area = 0.36;
  for (int id = 2; id <= 6; ++id) {
    small.spot.id = id;
    small.spot.volume = 0.001;
    all.low_spots.push_back(small);
  }
  CHECK(spots_to_dig_for(all).size() == 1);
  CHECK(small_spots_sentence(all, units) ==
        "5 small hollows hold 1.3 gal in all: a matter of raking, not of digging.");
  const std::string text = diagnosis_headline(all, units);
  CHECK_THAT(text, ContainsSubstring("One low spot. The long bed (no. 1) holds 150 gal") &&
                       ContainsSubstring("5 small hollows hold 1.3 gal in all"));
  all.low_spots[0].spot.spills_into = 3; // which is not described itself
  CHECK_THAT(diagnosis_headline(all, units), ContainsSubstring("into a small hollow, no. 3"));
  // A square yard of puddle, or a deep hole, is kept.
  all.low_spots[1].spot.area = 0.9;
  all.low_spots[2].spot.volume = 0.02;
  CHECK(spots_to_dig_for(all).size() == 3);
  all.low_spots = {small};
  CHECK(
      diagnosis_headline(all, units) ==
      "No low spot of the ground is worth digging for. One small hollow holds 0.26 gal: a matter of raking, "
      "not of digging.");
}

TEST_CASE(
    "an outlet over a lot line is called so; beside one with nothing to spare stands one that has some") {
  const Units units = units_for("m");
  auto route = sample::diagnosis().low_spots[0].outlets[0];
  route.crosses = {{"long bed", 0.6}};
  route.margin = 0.1;
  CHECK_THAT(outlet_sentence({route}, units), !ContainsSubstring("lot line") && !ContainsSubstring("Ask"));
  auto over = route;
  over.outlet = "east edge";
  over.crosses = {{"lot line 'back fence'", 0}};
  CHECK_THAT(outlet_sentence({over}, units),
             ContainsSubstring("to the east edge over lot line 'back fence',") &&
                 ContainsSubstring("Ask whose ground lies beyond"));
  CHECK_THAT(outlet_sentence({route, over}, units), !ContainsSubstring("east edge"));
  route.margin = 0.0004;
  CHECK_THAT(outlet_sentence({route, over}, units),
             ContainsSubstring("with nothing of fall to spare") &&
                 ContainsSubstring(" To the east edge over lot line 'back fence', ") &&
                 ContainsSubstring("100 mm to spare."));
  over.reach = Reach::too_deep;
  CHECK_THAT(outlet_sentence({route, over}, units), !ContainsSubstring("east edge"));
}
