#include "catch.hpp"
#include "simple_yard.hpp"

#include <lowspot/study/reach_ground.hpp>

using namespace lowspot;

TEST_CASE("a small yard keeps its cells; a large one is taken in blocks, open only where all of a block is") {
  SimpleYard yard = simple_yard(9, 6, 0.5, [](double x, double y) { return x + 10 * y; });
  yard.ground.active[yard.ground.grid.index(3, 3)] = 0;
  const study::ReachGround same = study::make_reach_ground(yard.site, yard.ground);
  CHECK(same.grid.cells() == 54);
  CHECK(same.elevation[13] == yard.ground.elevation[13]);
  CHECK(same.open[yard.ground.grid.index(3, 3)] == 0);
  const study::ReachGround blocks = study::make_reach_ground(yard.site, yard.ground, 15);
  CHECK(blocks.grid.nx == 5);
  CHECK(blocks.grid.ny == 3);
  CHECK(blocks.grid.cell == 1.0);
  CHECK_THAT(blocks.elevation[0], WithinAbs(0.5 + 10 * 0.5, 1e-12));
  CHECK_THAT(blocks.elevation[4], WithinAbs(4.25 + 10 * 0.5, 1e-12)); // a column of two cells is left over
  CHECK(blocks.open[blocks.grid.index(1, 1)] == 0);
  CHECK(blocks.open[blocks.grid.index(2, 1)] == 1);
  CHECK(study::nearest_open(blocks, {1.5, 1.5}, 2) != static_cast<int>(blocks.grid.index(1, 1)));
  CHECK(study::nearest_open(blocks, {0.5, 0.5}, 0.1) == 0);
  CHECK(study::nearest_open(blocks, {50, 50}, 2) == -1);
}

TEST_CASE("paving makes digging dearer by its share") {
  SimpleYard yard = simple_yard(4, 1, 1, [](double, double) { return 1; });
  site::Area patio;
  patio.impervious = true;
  yard.site.areas = {patio};
  yard.site.reach.paving_factor = 5;
  yard.ground.areas = {{{1, 2}, {1.0, 0.5}}};
  const study::ReachGround ground = study::make_reach_ground(yard.site, yard.ground);
  CHECK(ground.dearness == Field{1, 5, 3, 1});
}
