#include <lowspot/checks/trench_checks.hpp>

#include "round_yard.hpp"

using namespace lowspot;
using namespace lowspot::checks;

namespace {
std::vector<results::CheckRecord> trenches(const SimpleYard& yard, const site::Design& design) {
  std::vector<results::CheckRecord> list;
  check_trenches(yard.site, lay_out(yard.site, yard.ground, design), list);
  return list;
}
std::vector<results::CheckRecord> footings(const SimpleYard& yard, const site::Design& design) {
  std::vector<results::CheckRecord> list;
  check_footings(yard.site, lay_out(yard.site, yard.ground, design), list);
  return list;
}
} // namespace

TEST_CASE("cover is what lies over the outside of the pipe, the run-out before the outlet left out") {
  const SimpleYard yard = level_yard();
  // 100 - 98.5 ft at the head, less 4 in inside and half an inch of wall: 13.5 in.
  const auto head = the(trenches(yard, round_design()), "pipe_cover");
  CHECK(head.found_value == Approx(13.5 * inch));
  CHECK(outcome(head) == "pass");
  // A pipe that rises out of ground that falls away: 20 ft before the outlet count no more.
  const SimpleYard falling = yard_in_feet([](double x, double) { return 100 - 0.02 * (x - 10); });
  const auto thin = the(trenches(falling, round_design(98.8, 97.9)), "pipe_cover");
  // At 80 ft from the head: ground 98.4, invert 98.08: 3.84 in, less 4.5 in.
  CHECK(thin.found_value == Approx((98.4 - 98.08) * foot - 4.5 * inch).margin(0.002));
  CHECK(outcome(thin) == "fail");
  CHECK_THAT(thin.found, ContainsSubstring("out of the ground"));
}

TEST_CASE("fall and depth of the trench") {
  const SimpleYard yard = level_yard();
  const auto fall = the(trenches(yard, round_design()), "pipe_fall");
  CHECK(fall.found_value == Approx(0.01));
  CHECK(outcome(fall) == "pass");
  CHECK(outcome(the(trenches(yard, round_design(98, 97.6)), "pipe_fall")) == "fail"); // 0.4 %
  const auto depth = the(trenches(yard, round_design()), "trench_depth");
  CHECK(depth.found_value == Approx(2.5 * foot + 2 * inch)); // at the foot, bedding included
  CHECK(outcome(depth) == "pass");
  const auto ladder = the(trenches(yard, round_design(97, 96)), "trench_depth");
  CHECK(outcome(ladder) == "pass");
  CHECK_THAT(ladder.found, ContainsSubstring("ladder"));
  CHECK(outcome(the(trenches(yard, round_design(96, 95)), "trench_depth")) == "fail");
  // Five feet exactly is not less than five feet.
  CHECK(outcome(the(trenches(yard, round_design(96, 95 + 2.0 / 12)), "trench_depth")) == "fail");
}

TEST_CASE("a dry well is a hole too") {
  const SimpleYard yard = level_yard();
  site::Design design = round_design();
  design.outlets[0].kind = "dry well";
  design.outlets[0].well = {1, 4, 6 * foot, 0.4, 1e-6};
  CHECK(outcome(the(trenches(yard, design), "trench_depth", "fence")) == "fail");
}

TEST_CASE("a pipe that comes out of the ground is not said to lie 0 in deep") {
  const SimpleYard falling = yard_in_feet([](double x, double) { return 100 - 0.0215 * (x - 10); });
  CHECK_THAT(the(trenches(falling, round_design(98.8, 97.9)), "frost").found,
             ContainsSubstring("comes up to the ground"));
  CHECK_THAT(the(trenches(level_yard(), round_design()), "frost").found,
             ContainsSubstring("as little as 18 in deep"));
}

TEST_CASE("what runs empty does not freeze; what stands in the pipe does") {
  SimpleYard yard = level_yard();
  set_limit(yard, "outlet_free", 3 * foot); // its end is taken to be free
  CHECK(outcome(the(trenches(yard, round_design()), "frost")) == "pass");
  site::Design design = round_design();
  design.outlets[0].kind = "pop-up";
  CHECK(outcome(the(trenches(yard, design), "frost")) == "unknown");
  set_limit(yard, "frost_depth", 3 * foot);
  CHECK(outcome(the(trenches(yard, design), "frost")) == "fail");
  set_limit(yard, "frost_depth", 1 * foot); // the pipe lies 1.5 ft deep at least
  CHECK(outcome(the(trenches(yard, design), "frost")) == "pass");
  set_limit(yard, "frost_depth", 3 * foot);
  design.outlets[0].weep = 0.5 * inch;
  CHECK(outcome(the(trenches(yard, design), "frost")) == "pass");
}

TEST_CASE("a dry well that stays full for days keeps water in the pipe that ends in it") {
  SimpleYard yard = level_yard();
  site::Design design = round_design(); // its foot at 97.5 ft
  design.runs[0].has_trench = false;    // no stone that would hold water, too
  design.outlets[0].kind = "dry well";
  design.outlets[0].well = {1, 4, 6 * foot, 0.4, 1e-7};
  CHECK(outcome(the(trenches(yard, design), "frost")) == "unknown");
  // 0.762 m from the brim to the pipe, 0.4 m3/m of it, by 1 m2 of bottom and 4 m2/m of wall:
  // 0.4 / (4 K) ln((1 + 4 x 1.8288) / (1 + 4 x 1.0668)) = 4.6e5 s.
  CHECK_THAT(the(trenches(yard, design), "frost").found,
             ContainsSubstring("the dry well 'fence', once full, keeps water in the pipe for 5.3 days after "
                               "the last comes in"));
  set_limit(yard, "frost_depth", 3 * foot);
  CHECK(outcome(the(trenches(yard, design), "frost")) == "fail");
  set_limit(yard, "frost_depth", 1 * foot); // the pipe lies 1.5 ft deep at least
  CHECK(outcome(the(trenches(yard, design), "frost")) == "pass");
  set_limit(yard, "frost_depth", 3 * foot);
  design.outlets[0].well.conductivity = 1e-5; // gone within two hours
  CHECK(outcome(the(trenches(yard, design), "frost")) == "pass");
  design.outlets[0].well.conductivity = site::not_given; // of this yard's tight layer, which takes nothing
  CHECK(outcome(the(trenches(yard, design), "frost")) == "fail");
}

TEST_CASE("the stone that leads to a dry well gives it what it holds, and leaks as well") {
  SimpleYard yard = level_yard();
  yard.site.soils[0].tight_conductivity.likely = 0;
  site::Design design = round_design(98.51, 98.5); // the bottom of its stone below the foot all along
  design.outlets[0].kind = "dry well";
  design.outlets[0].well = {1, 1e-9, 6 * foot, 0.4, 1e-6}; // of no wall to speak of
  const auto found = [&] { return the(trenches(yard, design), "frost").found; };
  // From 100 ft down to 98.5 ft: 0.4 m3/m in the well and 0.38 of 100 ft2 in the stone, 1.797 m3, by 1 m2
  // of bottom at 1e-6 m/s: 20.8 days; the well by itself would take 2.1.
  CHECK_THAT(found(), ContainsSubstring("for 21 days after the last comes in"));
  // With 100 ft2 more that leak: 1.797 m3 by 10.29 m2, 2.02 days.
  yard.site.soils[0].tight_conductivity.likely = 1e-6;
  CHECK_THAT(found(), ContainsSubstring("for 2 days after the last comes in"));
  design.runs[0].pipe.slot_area = 0; // it takes nothing out of the stone it lies in
  CHECK_THAT(found(), ContainsSubstring("for 2.1 days after the last comes in"));
}

TEST_CASE("a free outlet that is buried does not run empty; at the limit it may") {
  SimpleYard yard = level_yard();
  set_limit(yard, "frost_depth", 3 * foot);
  site::Design design = round_design();
  yard.site.outline = {{0, 0}, {120 * foot, 0}, {120 * foot, 40 * foot}, {0, 40 * foot}};
  REQUIRE(outcome(the(trenches(yard, design), "outlet_free")) == "fail");
  CHECK(outcome(the(trenches(yard, design), "frost")) == "fail");
  CHECK_THAT(the(trenches(yard, design), "frost").found,
             ContainsSubstring("the outlet 'fence' is buried and holds water"));
  yard.site.outline = {{0, 0}, {110 * foot, 0}, {110 * foot, 40 * foot}, {0, 40 * foot}};
  REQUIRE(outcome(the(trenches(yard, design), "outlet_free")) == "unknown");
  CHECK(outcome(the(trenches(yard, design), "frost")) == "pass");
}

TEST_CASE("a leg is asked for where its carrier ends: a level held above its inverts stands in it as well") {
  SimpleYard yard = level_yard();
  set_limit(yard, "outlet_free", 3 * foot);
  site::Design design = round_design(98.5, 97.5); // the carrier, from 10 ft to 110 ft
  design.runs[0].from = "tee";
  design.fittings = {{"tee", {10 * foot, 10 * foot}}};
  site::Run leg = design.runs[0];
  leg.name = "leg", leg.from = "", leg.to = "tee";
  leg.path = {{10 * foot, 30 * foot}, {10 * foot, 10 * foot}};
  leg.inverts = {98.9 * foot, 98.5 * foot};
  design.runs.push_back(leg);
  const auto frost_of = [&] { return the(trenches(yard, design), "frost", "leg"); };
  CHECK(outcome(frost_of()) == "pass"); // a free end
  design.outlets[0].kind = "pop-up";    // its lid in the lawn, at 100 ft
  CHECK(outcome(frost_of()) == "unknown");
  CHECK_THAT(frost_of().found, ContainsSubstring("the pop-up 'fence' has no weep hole"));
  set_limit(yard, "frost_depth", 3 * foot);
  CHECK(outcome(frost_of()) == "fail");
  design.outlets[0].lid = 98.4 * foot; // in a ditch below the leg, but above the foot of the carrier
  CHECK(outcome(frost_of()) == "pass");
  CHECK(outcome(the(trenches(yard, design), "frost", "main")) == "fail");
  // Only where it stands: from 98.4 ft down, under 19.2 in of ground and more.
  CHECK(the(trenches(yard, design), "frost", "main").found_value == Approx(1.6 * foot).margin(0.01));
  CHECK_THAT(the(trenches(yard, design), "frost", "main").found,
             ContainsSubstring("where water stays in it"));
  design.outlets[0].kind = "submerged";
  design.outlets[0].level = 97 * foot; // below the pipe, but for high water
  CHECK(outcome(frost_of()) == "pass");
  design.outlets[0].times = {0, 3600}, design.outlets[0].levels = {97 * foot, 99 * foot};
  CHECK(outcome(frost_of()) == "fail");
  design.outlets[0].kind = "pump";
  design.outlets[0].well = {0.2, 1.6, 4 * foot, 1, site::not_given};
  design.outlets[0].pump_rate = 1e-3, design.outlets[0].pump_off = 0.1;
  design.outlets[0].pump_on = 1 * foot; // at 97 ft
  CHECK(outcome(frost_of()) == "pass");
  CHECK(outcome(the(trenches(yard, design), "frost", "main")) == "pass");
  design.outlets[0].pump_on = 2 * foot; // at 98 ft
  CHECK(outcome(frost_of()) == "pass");
  CHECK(outcome(the(trenches(yard, design), "frost", "main")) == "fail");
}

TEST_CASE("nothing is dug below the 45-degree line from a footing") {
  SimpleYard yard = level_yard();
  add_house(yard, 30, 14, 60, 30); // its south wall 4 ft from the middle of the trench, 3.5 ft from its side
  // Trench bottom at x = 60 ft: invert 98 less 2 in, 2.167 ft deep. Line there: footing depth + 3.5 ft.
  const auto free = the(footings(yard, round_design()), "footing");
  CHECK(outcome(free) == "pass");
  CHECK_THAT(free.found, ContainsSubstring("however shallow"));
  CHECK(free.found_value == Approx((3.5 - 2 - 2.0 / 12) * foot).margin(0.01));
  // 4 ft deeper it depends on the footing, and the depth that would do is said.
  const site::Design deep = round_design(94.5, 93.5);
  const auto unknown = the(footings(yard, deep), "footing");
  CHECK(outcome(unknown) == "unknown");
  CHECK(-unknown.found_value == Approx((6 + 2.0 / 12 - 3.5) * foot).margin(0.01));
  yard.site.buildings[0].footing_depth = 2.5 * foot;
  CHECK(outcome(the(footings(yard, deep), "footing")) == "fail");
  yard.site.buildings[0].footing_depth = 2.7 * foot;
  CHECK(outcome(the(footings(yard, deep), "footing")) == "pass");
  set_limit(yard, "footing_slope", 0.5); // loose sand: twice as far out
  CHECK(outcome(the(footings(yard, deep), "footing")) == "fail");
}

TEST_CASE("a pit is held against the footing as a trench is") {
  SimpleYard yard = level_yard();
  add_house(yard, 0, 20, 40, 40);
  yard.site.buildings[0].footing_depth = 1 * foot;
  site::Design design;
  site::Outlet pit;
  pit.name = "well";
  pit.kind = "dry well";
  pit.at = {20 * foot, 16 * foot};
  pit.well = {M_PI * foot * foot, 2 * M_PI * foot, 4.5 * foot, 1, 1e-6};
  design.outlets = {pit};
  const auto found = [&] {
    std::vector<results::CheckRecord> list;
    check_footings(yard.site, lay_out(yard.site, yard.ground, design), list);
    REQUIRE(list.size() == 1);
    return list[0];
  };
  CHECK(outcome(found()) == "fail"); // 3 ft off: 1 + 3 ft deep is the line
  CHECK(found().found_value == Approx(-0.5 * foot).margin(0.05 * foot));
  CHECK_THAT(found().found, ContainsSubstring("well"));
  design.outlets[0].at.y = 14 * foot;
  CHECK(outcome(found()) == "pass");
}

TEST_CASE("a free outlet under the ground is buried; at the limit nobody knows what lies beyond") {
  SimpleYard yard = level_yard(); // level at 100 ft: the foot lies 2.5 ft under it
  const auto of = [&](const site::Design& design) { return the(trenches(yard, design), "outlet_free"); };
  site::Design design = round_design();
  CHECK(outcome(of(design)) == "fail");
  CHECK(of(design).found_value == Approx(2.5 * foot));
  CHECK_THAT(of(design).found, ContainsSubstring("buried"));
  design.runs[0].path[1].x = design.outlets[0].at.x = 120 * foot;
  CHECK(outcome(of(design)) == "unknown");
  SimpleYard slope = yard_in_feet([](double x, double) { return 100 - 0.02 * x; });
  CHECK(outcome(the(trenches(slope, round_design(98.5, 97.75)), "outlet_free")) == "pass");
  // A town's own figure.
  CHECK(of(round_design()).limit == "at most 2 in");
  set_limit(yard, "outlet_free", 3 * foot);
  CHECK(outcome(of(round_design())) == "pass");
}

TEST_CASE("a trench is deeper where it is dug before the ground is lowered") {
  SimpleYard yard = level_yard(); // at 100 ft
  const auto depth_of = [&](double head, double foot_invert) {
    site::Design design = round_design(head, foot_invert);
    design.regrades = {levelled_to(yard, 99)};
    return the(trenches(yard, design), "trench_depth", "main");
  };
  CHECK(outcome(depth_of(97, 96)) == "pass"); // 3.2 ft, or 4.2 ft
  CHECK(depth_of(97, 96).found_value == Approx(3 * foot + 2 * inch));
  CHECK_THAT(depth_of(97, 96).found,
             ContainsSubstring("before the ground is shaped") && ContainsSubstring("ladder"));
  CHECK(outcome(depth_of(96, 95)) == "unknown"); // 4.2 ft, or 5.2 ft
  CHECK_THAT(depth_of(96, 95).missing, ContainsSubstring("shape the ground and then dig"));
  CHECK(outcome(depth_of(95, 94)) == "fail");
  site::Design pit = round_design();
  pit.outlets[0].kind = "dry well";
  pit.outlets[0].well = {1, 4, 4.5 * foot, 0.4, 1e-6};
  CHECK(outcome(the(trenches(yard, pit), "trench_depth", "fence")) == "pass");
  pit.regrades = {levelled_to(yard, 99)};
  CHECK(outcome(the(trenches(yard, pit), "trench_depth", "fence")) == "unknown");
  pit.standing = {"fence"}; // nobody digs it again
  for (const auto& record : trenches(yard, pit)) CHECK(record.about != "fence");
}

TEST_CASE("a footing lies under the ground of today, not under that of the design") {
  SimpleYard yard = level_yard();
  add_house(yard, 30, 14, 60, 30);
  yard.site.buildings[0].footing_depth = 2.5 * foot; // down to 97.5 ft
  site::Design deep = round_design(94.5, 93.5);
  CHECK(outcome(the(footings(yard, deep), "footing")) == "fail"); // 93.8 ft, 3.5 ft away
  deep.regrades = {levelled_to(yard, 98)};
  const auto lowered = the(footings(yard, deep), "footing");
  CHECK(outcome(lowered) == "fail");
  CHECK(lowered.found_value == Approx(-2 * inch).margin(0.01));
}

TEST_CASE("a pipe in which water stands just as deep as the ground freezes keeps that limit") {
  SimpleYard yard = level_yard();
  for (int inches = 12; inches <= 36; ++inches) {
    INFO(inches << " in");
    // Level, so that water stands in all of it at the depth of its invert.
    site::Design design = round_design(100 - inches / 12.0, 100 - inches / 12.0);
    set_limit(yard, "frost_depth", inches * inch);
    CHECK(outcome(the(trenches(yard, design), "frost")) == "pass");
    set_limit(yard, "frost_depth", (inches + 0.01) * inch);
    CHECK(outcome(the(trenches(yard, design), "frost")) == "fail");
  }
}
