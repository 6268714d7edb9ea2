#include <lowspot/study/hose_test.hpp>

#include <cmath>

#include <lowspot/base/error.hpp>

#include "catch.hpp"
#include "figures.hpp"
#include "simple_yard.hpp"

using namespace lowspot;
using namespace lowspot::study;

namespace {

// 6 by 3 m, hard, walled, falling a little towards the trench across its middle; soil that takes nothing.
SimpleYard hard_yard() {
  SimpleYard yard = simple_yard(
      24, 12, 0.25, [](double x, double y) { return 1.2 - 0.005 * x + 0.02 * std::abs(y - 1.5); });
  yard.site.soils[0].conductivity = {1e-12, 1e-12, 1e-12};
  return yard;
}

site::Design tight_drain(const SimpleYard& yard) {
  site::Design design = simple_drain(yard, 0.45);
  design.runs[0].fabric.permittivity = 0;
  return design;
}

} // namespace

TEST_CASE("on hard ground the outlet gives in the end what the hose gives") {
  const SimpleYard yard = hard_yard();
  HoseOptions options;
  options.at = Point{3, 1.5};
  options.flow = 2e-4;
  options.duration = 3600;
  const HoseTest test = hose_test(yard.site, yard.ground, tight_drain(yard), options);
  CHECK(test.over_trench);
  CHECK(test.steady);
  CHECK(test.last_flow == Approx(2e-4).epsilon(0.02));
  figures::record("study", "hose on hard ground", "steady flow at the outlet, L/s", 0.2, test.last_flow * 1e3,
                  figures::share(0.02));
  CHECK(test.given == Approx(0.72));
  CHECK(test.by_outlets + test.over_edges + test.on_ground + test.in_drain + test.to_soil ==
        Approx(test.given));
  CHECK(std::abs(test.to_soil) < 0.01 * test.given);
  CHECK(test.over_edges == 0);
  CHECK(test.first_water > 0);
  CHECK(test.first_water < test.duration);
  CHECK(test.outlet_stops > 0);
  CHECK(test.puddle_gone < 3600);
}

TEST_CASE("first water comes when the stone below the pipe is full") {
  // A trench of one metre, nearly level, with 20 cm of bedding: 1 x 0.3 x 0.2 x 0.38 m3 fill before any water
  // reaches the pipe; 1e-4 m3/s takes 228 s. Travel along one metre adds some seconds.
  const SimpleYard yard = hard_yard();
  site::Design design = tight_drain(yard);
  site::Run& run = design.runs[0];
  run.path = {{5, 1.5}, {6, 1.5}};
  run.bedding = 0.2;
  run.trench_depth = 0.5;
  run.fall = 0.001;
  HoseOptions options;
  options.at = Point{5.6, 1.5};
  options.flow = 1e-4;
  const HoseTest test = hose_test(yard.site, yard.ground, design, options);
  const double filling = 1 * 0.3 * 0.2 * run.stone.porosity / options.flow;
  CHECK(test.first_water > 0.95 * filling);
  CHECK(test.first_water < 1.25 * filling);
  figures::record("study", "hose over a trench with bedding",
                  "first water, against the time to fill the bedding, s", filling, test.first_water,
                  figures::share(0.25));
  CHECK(test.held_at_first_water == Approx(filling * options.flow).epsilon(0.1));
  // Twice the flow, half the time.
  options.flow = 2e-4;
  const HoseTest faster = hose_test(yard.site, yard.ground, design, options);
  CHECK(faster.first_water == Approx(test.first_water / 2).epsilon(0.15));
}

TEST_CASE("a hose far from the drain on thirsty ground never shows at the outlet") {
  SimpleYard yard = hard_yard();
  make_pervious(yard);
  yard.site.soils[0].conductivity = {1e-3, 1e-3, 1e-3};
  yard.site.soils[0].tight_conductivity = {1e-3, 1e-3, 1e-3};
  HoseOptions options;
  options.at = Point{0.5, 0.4};
  options.flow = 2e-5;
  options.duration = 300;
  options.watch = 3600;
  const HoseTest test = hose_test(yard.site, yard.ground, tight_drain(yard), options);
  CHECK(std::isnan(test.first_water));
  CHECK(test.to_soil > 0.9 * test.given);
  CHECK_THAT(test.says[1], ContainsSubstring("No water comes out"));
}

TEST_CASE("without a place the hose lies in the judged low spot; a place without ground is refused") {
  SimpleYard yard = simple_yard(24, 12, 0.25, [](double x, double y) {
    return 1.2 - 0.3 * std::max(0.0, 1 - std::hypot(x - 4.125, y - 1.625));
  });
  std::string place;
  const int cell = lowest_judged_cell(yard.site, yard.ground, place);
  CHECK(yard.ground.grid.x(yard.ground.grid.column(cell)) == Approx(4.125));
  CHECK(yard.ground.grid.y(yard.ground.grid.row(cell)) == Approx(1.625));
  CHECK_THAT(place, ContainsSubstring("low spot 1"));
  HoseOptions options;
  options.at = Point{-5, 0};
  CHECK_THROWS_AS(hose_test(yard.site, yard.ground, simple_drain(yard), options), InputError);
  site::Design nothing;
  nothing.name = "nothing";
  CHECK_THROWS_AS(hose_test(yard.site, yard.ground, nothing), InputError);
}

namespace {

// The hard yard with a pit of half a metre across at the foot of a pipe, as an outlet of this kind.
site::Design to_pit(const SimpleYard& yard, const std::string& kind) {
  site::Design design = tight_drain(yard);
  design.runs[0].path = {{1, 1.5}, {4.5, 1.5}};
  design.runs[0].to = "pit";
  site::Outlet& outlet = design.outlets[0];
  outlet.name = "pit";
  outlet.kind = kind;
  outlet.at = {4.5, 1.5};
  outlet.well.plan = 0.19635, outlet.well.perimeter = 1.5708, outlet.well.depth = 1.2;
  outlet.well.conductivity = 1e-10;
  return design;
}

} // namespace

TEST_CASE("a pump that starts and stops gives on the mean of its cycles what the hose gives") {
  const SimpleYard yard = hard_yard();
  site::Design design = to_pit(yard, "pump");
  design.outlets[0].pump_rate = 2e-3;
  design.outlets[0].pump_on = 0.3, design.outlets[0].pump_off = 0.1; // 39 L a cycle
  HoseOptions options;
  options.at = Point{3, 1.5};
  options.flow = 2e-4;
  options.duration = 3600;
  const HoseTest test = hose_test(yard.site, yard.ground, design, options);
  CHECK(test.cycles >= 10);
  CHECK(test.last_flow == Approx(2e-4).epsilon(0.08));
  CHECK_THAT(test.says[1],
             ContainsSubstring("The pump starts and stops") && ContainsSubstring("on the mean"));
  CHECK(test.held_at_first_water <= options.flow * test.first_water * 1.001);
  CHECK(test.in_wells > 0);
  CHECK(test.in_wells <= test.in_drain);
}

TEST_CASE("at a pop-up the lid is watched: what its weep hole lets out below the ground is told apart") {
  const SimpleYard yard = hard_yard();
  site::Design design = tight_drain(yard);
  site::Outlet& lid = design.outlets[0];
  lid.kind = "pop-up";
  lid.opening_head = 0.02;
  lid.weep = 0.01; // at half a metre of water 0.15 L/s at most
  HoseOptions options;
  options.at = Point{3, 1.5};
  options.flow = 3e-4; // which the slots let through
  options.duration = 3600;
  const HoseTest test = hose_test(yard.site, yard.ground, design, options);
  CHECK(test.weep_first < test.first_water - 30);
  CHECK(test.weep_stops > test.outlet_stops + 60);
  CHECK(test.through_weeps > 0);
  CHECK(test.through_weeps < test.through_outlets);
  // The hole gives what it does under the water from the invert, some 0.4 m below the ground, to the lid.
  const auto hole = [](double head) { return 0.61 * M_PI / 4 * 1e-4 * std::sqrt(2 * 9.81 * head); };
  CHECK(test.last_flow < options.flow - hole(0.3));
  CHECK(test.last_flow > options.flow - hole(0.6));
  CHECK_THAT(test.says[1], ContainsSubstring("First water at the lid of the outlet"));
  CHECK_THAT(test.says[3], ContainsSubstring("The weep hole lets water out below the ground") &&
                               ContainsSubstring("is not seen"));
  // A hose that the hole swallows never lifts the lid.
  options.flow = 4e-5;
  const HoseTest little = hose_test(yard.site, yard.ground, design, options);
  CHECK(std::isnan(little.first_water));
  CHECK(little.weep_first > 0);
  CHECK_THAT(little.says[1], ContainsSubstring("No water comes up at the lid"));
}

TEST_CASE("a dry well gives no water: how far it fills is said") {
  const SimpleYard yard = hard_yard();
  HoseOptions options;
  options.at = Point{3, 1.5};
  options.flow = 2e-4;
  options.duration = 600;
  options.watch = 3600;
  const HoseTest test = hose_test(yard.site, yard.ground, to_pit(yard, "dry well"), options);
  CHECK(std::isnan(test.first_water));
  CHECK(test.well == "pit");
  CHECK(test.well_whole == 1.2);
  CHECK(test.well_depth > 0.3);
  CHECK(test.in_wells == Approx(0.19635 * test.well_depth).epsilon(0.02));
  CHECK_THAT(test.says[1], ContainsSubstring("which only fills") && ContainsSubstring("'pit' rises to") &&
                               !ContainsSubstring("let it run longer"));
  CHECK_THAT(test.says[3], ContainsSubstring("in 'pit'"));
}

TEST_CASE(
    "where no slotted pipe lies the hose runs into a grate; works for roof water want it in the gutter") {
  const SimpleYard yard = hard_yard();
  site::Design design;
  site::Outlet pit;
  pit.name = "pit";
  pit.kind = "dry well";
  pit.at = {3, 1.5};
  pit.well = {1.0, 4.0, 1.0, 1.0, 1e-12};
  design.outlets = {pit};
  HoseTest test = hose_test(yard.site, yard.ground, design);
  CHECK_FALSE(test.takes_in);
  CHECK_THAT(test.says.at(1), ContainsSubstring("into the gutter"));
  for (const std::string& sentence : test.says) CHECK_THAT(sentence, !ContainsSubstring("trench"));
  site::Channel channel;
  channel.name = "gutter";
  channel.path = {{1, 1.5}, {2.5, 1.5}};
  channel.width = channel.depth = 0.1;
  channel.grate = {0.1, 1.5, 0.5, 0};
  channel.capacity = 0.01;
  channel.to = "pit";
  design.channels = {channel};
  test = hose_test(yard.site, yard.ground, design);
  CHECK(test.at_grate);
  CHECK(test.takes_in);
  CHECK(distance_to(channel.path, test.at) < 1e-6);
  CHECK_THAT(test.says.at(0), ContainsSubstring("the head of the channel 'gutter'."));
  CHECK(test.in_wells > 0.8 * test.given);
}

TEST_CASE("a hose test has the water of the hose alone, whatever runs in with a storm") {
  SimpleYard yard = hard_yard();
  HoseOptions options;
  options.at = Point{3, 1.5};
  options.flow = 2e-4;
  options.duration = 1200;
  options.watch = 3600;
  const HoseTest alone = hose_test(yard.site, yard.ground, tight_drain(yard), options);
  yard.site.edges.inflows = {{{{0, 0}, {0, 3}}, {0, 3600}, {1e-3, 0}, "brook"}};
  yard.site.edges.seeps = {{{{0, 0}, {0, 3}}, {0}, {1e-4}, site::not_given, "seep"}};
  const HoseTest test = hose_test(yard.site, yard.ground, tight_drain(yard), options);
  CHECK(test.by_outlets == Approx(alone.by_outlets));
  CHECK(test.first_water == Approx(alone.first_water));
}

TEST_CASE("the hose lies in the lowest place that the design leaves") {
  // A hollow in the west, which the design fills, and a shallower one in the east.
  SimpleYard yard = simple_yard(24, 12, 0.25, [](double x, double y) {
    const auto hollow = [&](double at, double depth) {
      return depth * std::max(0.0, 1 - std::hypot(x - at, y - 1.5) / 1.0);
    };
    return 1 - hollow(1.6, 0.2) - hollow(4.4, 0.1);
  });
  open_side(yard, terrain::Side::north);
  site::Design design = simple_drain(yard, 0.45);
  CHECK(hose_test(yard.site, yard.ground, design).at.x == Approx(1.6).margin(0.3));
  site::Regrade fill;
  fill.name = "fill", fill.kind = "plane";
  fill.outline = {{0, 0}, {3, 0}, {3, 3}, {0, 3}};
  fill.surface = {{0, 0, 1}, {1, 0, 1}, {0, 1, 1}};
  design.regrades = {fill};
  CHECK(hose_test(yard.site, yard.ground, design).at.x == Approx(4.4).margin(0.3));
}
