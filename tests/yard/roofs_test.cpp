#include "catch.hpp"
#include "simple_yard.hpp"

#include <lowspot/base/error.hpp>
#include <lowspot/yard/roofs.hpp>

using namespace lowspot;

namespace {
// A house of 4 x 2 cells in the middle of the north side.
SimpleYard yard_with_house() {
  SimpleYard yard = simple_yard(10, 10, 1.0, [](double, double) { return 1.0; });
  site::Building house;
  house.name = "house";
  house.outline = {{3, 8}, {7, 8}, {7, 10}, {3, 10}};
  yard.site.buildings = {house};
  terrain::Coverage coverage;
  for (int j = 8; j < 10; ++j)
    for (int i = 3; i < 7; ++i) {
      const int cell = static_cast<int>(yard.ground.grid.index(i, j));
      coverage.cells.push_back(cell);
      coverage.fractions.push_back(1);
      yard.ground.active[cell] = 0;
    }
  yard.ground.buildings = {coverage};
  return yard;
}
} // namespace

TEST_CASE("a roof without downspouts sheds evenly at the foot of its walls") {
  const SimpleYard yard = yard_with_house();
  const auto roofs = yard::route_roofs(yard.site, yard.ground, nullptr, nullptr);
  REQUIRE(roofs.size() == 1);
  CHECK(roofs[0].roof_area == 8.0);
  CHECK(roofs[0].cells.size() == 8); // four to the south, two on each side
}

TEST_CASE("of a roof without downspouts the share sheds into the yard that its walls have there") {
  SimpleYard yard = yard_with_house();
  yard.site.buildings[0].outline = {{3, 8}, {7, 8}, {7, 18}, {3, 18}}; // two of its ten metres in the yard
  const auto roofs = yard::route_roofs(yard.site, yard.ground, nullptr, nullptr);
  REQUIRE(roofs.size() == 1);
  CHECK(roofs[0].roof_area == Approx(40.0 * (2 + 4 + 2) / 28));
}

TEST_CASE("a downspout runs onto the nearest open ground, or into the run that a design sends it to") {
  SimpleYard yard = yard_with_house();
  yard.site.buildings[0].downspouts = {{"corner", {7.2, 8.5}, 40.0, "ground"}};
  const auto as_is = yard::route_roofs(yard.site, yard.ground, nullptr, nullptr);
  REQUIRE(as_is.size() == 1);
  CHECK(as_is[0].cells == std::vector<int>{static_cast<int>(yard.ground.grid.index(7, 8))});
  site::Design design = simple_drain(yard);
  design.downspouts = {{"corner", "run"}};
  drain::Layout layout;
  drain::Run run;
  run.name = "run";
  run.path = {{2, 5}, {10, 5}};
  run.inverts = {0.6, 0.5};
  run.pipe = {0.1, 0.012, 0.002, 0.61};
  run.trench_width = 0.3;
  run.stone = {0.4, 0.1, 0};
  run.to = "out";
  layout.runs = {run};
  layout.outlets = {{"out", drain::OutletKind::daylight, {10, 5}}};
  layout.taps = {{"corner", "run", {7.2, 8.5}, {1.0, 0.4, 0.01, 0, false, {{7.2, 8.5}}}}};
  const drain::Drain drain(layout, [](Point) { return 1.0; });
  const auto sent = yard::route_roofs(yard.site, yard.ground, &design, &drain);
  REQUIRE(sent[0].tap == 0);
  CHECK(sent[0].roof_area == 40.0);
}

TEST_CASE("a place deep inside a building is refused") {
  SimpleYard yard = simple_yard(40, 40, 0.25, [](double, double) { return 0.0; });
  yard.ground.active.assign(1600, 0);
  CHECK_THROWS_AS(yard::nearest_active_cell(yard.ground, {5, 5}, "downspout 'x'"), InputError);
}

TEST_CASE("a roof narrower than the cells, or just beyond the limit, sheds into the yard as another does") {
  site::Site site;
  site.units = "m";
  site.outline = {{0, 0}, {12, 0}, {12, 12}, {0, 12}};
  site.cell = 0.5;
  site.soils.resize(1);
  site.ground.breaklines = {{{0, 0, 10}, {12, 0, 10}}, {{0, 12, 10}, {12, 12, 10}}};
  struct Case {
    Polygon outline;
    double into_yard = 0; // m2
    std::size_t cells = 0;
  };
  // A post, a roof over a fence (shedding to both sides and over its ends), and a house whose south wall, six
  // of its twenty metres, is the limit.
  for (const Case& one : {Case{{{5.3, 5.3}, {5.65, 5.3}, {5.65, 5.65}, {5.3, 5.65}}, 0.1225, 4},
                          Case{{{2, 5.3}, {8, 5.3}, {8, 5.42}, {2, 5.42}}, 0.72, 26},
                          Case{{{2, 12}, {8, 12}, {8, 16}, {2, 16}}, 24 * 0.3, 12}}) {
    site::Building building;
    building.outline = one.outline;
    site.buildings = {building};
    const auto roofs = yard::route_roofs(site, terrain::build_ground(site), nullptr, nullptr);
    REQUIRE(roofs.size() == 1);
    CHECK_THAT(roofs[0].roof_area, WithinRel(one.into_yard, 1e-9));
    CHECK(roofs[0].cells.size() == one.cells);
  }
}
