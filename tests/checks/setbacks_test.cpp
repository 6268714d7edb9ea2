#include <lowspot/checks/setbacks.hpp>

#include "round_yard.hpp"

using namespace lowspot;
using namespace lowspot::checks;

namespace {
std::vector<results::CheckRecord> setbacks(const SimpleYard& yard, const site::Design& design) {
  std::vector<results::CheckRecord> list;
  check_setbacks(yard.site, lay_out(yard.site, yard.ground, design), list);
  return list;
}
site::KeepOff place(const std::string& kind, Polyline shape, bool closed = false) {
  site::KeepOff keep_off;
  keep_off.name = keep_off.kind = kind;
  keep_off.shape = std::move(shape);
  keep_off.closed = closed;
  return keep_off;
}
} // namespace

TEST_CASE("what soaks keeps away from the house, solid pipe need not") {
  SimpleYard yard = level_yard();
  add_house(yard, 30, 18, 60, 30);
  site::Design design = round_design();
  const auto near = the(setbacks(yard, design), "soak_from_house");
  CHECK(near.found_value == Approx(7.5 * foot));
  CHECK(outcome(near) == "fail");
  design.runs[0].pipe.slot_area = 0; // in stone, which leaks through its bottom all the same
  CHECK(outcome(the(setbacks(yard, design), "soak_from_house")) == "fail");
  design.runs[0].has_trench = false;
  CHECK(outcome(the(setbacks(yard, design), "soak_from_house")) == "pass");
  design.outlets[0].kind = "dry well"; // 50 ft east of the house
  design.outlets[0].well = {1, 4, 4 * foot, 0.4, 1e-6};
  CHECK(the(setbacks(yard, design), "soak_from_house").found_value > 40 * foot);
}

TEST_CASE("a lot line that nobody named is unknown; a named one is held") {
  SimpleYard yard = level_yard();
  const auto unnamed = the(setbacks(yard, round_design()), "lot_line_distance");
  CHECK(outcome(unnamed) == "unknown");
  CHECK_THAT(unnamed.missing, ContainsSubstring("keep_off"));
  site::Design at_limit = round_design(); // its outlet on the outline, but for rounding
  at_limit.outlets[0].at = {at_limit.outlets[0].at.x, 1e-15};
  CHECK_THAT(the(setbacks(yard, at_limit), "lot_line_distance").found.substr(0, 9),
             ContainsSubstring("0 in from"));
  yard.site.keep_offs = {place("lot line", {{0, 0}, {120 * foot, 0}})};
  const auto named = the(setbacks(yard, round_design()), "lot_line_distance");
  CHECK(named.found_value == Approx(10 * foot)); // the outlet, not the trench
  CHECK(outcome(named) == "pass");
  yard.site.keep_offs[0].distance = 12 * foot; // the file's own distance
  CHECK(outcome(the(setbacks(yard, round_design()), "lot_line_distance")) == "fail");
}

TEST_CASE("wells: the distance must be asked for; all works count") {
  SimpleYard yard = level_yard();
  yard.site.keep_offs = {place("well", {{60 * foot, 0}})};
  CHECK(outcome(the(setbacks(yard, round_design()), "well_distance")) == "unknown");
  CHECK(the(setbacks(yard, round_design()), "well_distance").found_value == Approx(9.5 * foot));
  set_limit(yard, "well_distance", 50 * foot);
  CHECK(outcome(the(setbacks(yard, round_design()), "well_distance")) == "fail");
}

TEST_CASE("a septic field asks for more below it than above") {
  const Polygon field = {
      {40 * foot, 40 * foot}, {80 * foot, 40 * foot}, {80 * foot, 60 * foot}, {40 * foot, 60 * foot}};
  // The trench lies 29.5 ft from it: far enough above, too near below.
  SimpleYard down = yard_in_feet([](double, double y) { return 100 - 0.02 * y; });
  down.site.keep_offs = {place("septic field", field, true)};
  const auto above = the(setbacks(down, round_design(98, 97)), "septic_upslope");
  CHECK(above.found_value == Approx(29.5 * foot).margin(0.01));
  CHECK(outcome(above) == "pass");
  SimpleYard up = yard_in_feet([](double, double y) { return 100 + 0.02 * y; });
  up.site.keep_offs = {place("septic field", field, true)};
  CHECK(outcome(the(setbacks(up, round_design(98, 97)), "septic_downslope")) == "fail");
}

TEST_CASE("a place of the owner's with its own distance") {
  SimpleYard yard = level_yard();
  yard.site.keep_offs = {place("other", {{60 * foot, 20 * foot}})};
  yard.site.keep_offs[0].distance = 9.4 * foot;
  CHECK(outcome(the(setbacks(yard, round_design()), "keep_off")) == "pass");
  yard.site.keep_offs[0].distance = 9.6 * foot;
  CHECK(outcome(the(setbacks(yard, round_design()), "keep_off")) == "fail");
}

TEST_CASE("a rain garden is as near as its nearest side, and what lies within it is no distance away") {
  SimpleYard yard = level_yard();
  set_limit(yard, "well_distance", 10 * foot);
  site::Design design;
  site::Basin garden;
  garden.name = "garden";
  garden.depth = 0.5 * foot;
  garden.outline = {
      {20 * foot, 5 * foot}, {80 * foot, 5 * foot}, {80 * foot, 15 * foot}, {20 * foot, 15 * foot}};
  design.basins = {garden};
  yard.site.keep_offs = {place("well", {{50 * foot, 24 * foot}})};
  auto near = the(setbacks(yard, design), "well_distance");
  CHECK(near.found_value == Approx(9 * foot).epsilon(1e-4)); // its corners lie 31 ft off
  CHECK(outcome(near) == "fail");
  yard.site.keep_offs[0].shape = {{50 * foot, 10 * foot}};
  CHECK(the(setbacks(yard, design), "well_distance").found_value == 0);
  yard.site.keep_offs = {place("lot line", {{0, 18 * foot}, {120 * foot, 18 * foot}})};
  near = the(setbacks(yard, design), "lot_line_distance");
  CHECK(near.found_value == Approx(3 * foot).epsilon(1e-4));
  yard.site.keep_offs[0].shape = {{0, 10 * foot}, {120 * foot, 10 * foot}}; // right through it
  CHECK(the(setbacks(yard, design), "lot_line_distance").found_value == 0);
  add_house(yard, 40, 20, 60, 30);
  CHECK(the(setbacks(yard, design), "soak_from_house").found_value == Approx(5 * foot).epsilon(1e-4));
}

TEST_CASE(
    "channels, improved soil and shaped ground keep off as pipes do, and let no water into the ground") {
  SimpleYard yard = level_yard();
  add_house(yard, 80, 20, 100, 30);
  yard.site.keep_offs = {place("other", {{60 * foot, 20 * foot}})};
  yard.site.keep_offs[0].distance = 5 * foot;
  const Polygon square = {
      {30 * foot, 10 * foot}, {56 * foot, 10 * foot}, {56 * foot, 30 * foot}, {30 * foot, 30 * foot}};
  const auto distance_of = [&](const site::Design& design) {
    const auto list = setbacks(yard, design);
    CHECK(outcome(the(list, "soak_from_house")) == "pass");
    CHECK(outcome(the(list, "keep_off")) == "fail");
    return the(list, "keep_off").found_value;
  };
  site::Design design = round_design(); // a solid pipe in backfill, further off, takes the channel's water
  design.runs[0].has_trench = false, design.runs[0].pipe.slot_area = 0;
  design.channels.resize(1);
  design.channels[0].to = "main", design.channels[0].capacity = 1e-3;
  design.channels[0].name = "gutter", design.channels[0].width = 0.5 * foot;
  design.channels[0].depth = 0.5 * foot;
  design.channels[0].path = {{50 * foot, 10 * foot}, {50 * foot, 17 * foot}, {110 * foot, 17 * foot}};
  CHECK(distance_of(design) == Approx(2.75 * foot).epsilon(1e-4));
  design = {};
  design.amends.resize(1);
  design.amends[0].name = "loosened", design.amends[0].outline = square;
  CHECK(distance_of(design) == Approx(4 * foot).epsilon(1e-4));
  design = {};
  design.regrades.resize(1);
  design.regrades[0].name = "plane", design.regrades[0].kind = "plane", design.regrades[0].outline = square;
  design.regrades[0].surface = {{0, 0, 100 * foot}, {1, 0, 100 * foot}, {0, 1, 100 * foot}};
  CHECK(distance_of(design) == Approx(4 * foot).epsilon(1e-4));
  for (const std::string kind : {"swale", "berm"}) {
    design.regrades[0] = {};
    design.regrades[0].name = kind, design.regrades[0].kind = kind, design.regrades[0].width = 2 * foot;
    const double level = (kind == "swale" ? 99.5 : 100.5) * foot;
    design.regrades[0].path = {{20 * foot, 16 * foot, level}, {70 * foot, 16 * foot, level}};
    CHECK(distance_of(design) == Approx(3 * foot).epsilon(1e-4));
  }
}
