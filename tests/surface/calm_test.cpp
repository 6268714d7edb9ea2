#include <lowspot/surface/calm.hpp>

#include <cmath>

#include <lowspot/surface/tiles.hpp>

#include "catch.hpp"
#include "yards.hpp"

using namespace lowspot::surface;
using lowspot::Field;

TEST_CASE("Potential discharge is Manning's", "[surface]") {
  const double expected = std::pow(0.02, 10.0 / 3.0) / (0.04 * 0.04) * 0.01 / 0.5;
  CHECK_THAT(potential_squared(1.02, 1.01, 1.00, 0.04 * 0.04, 0.5), WithinRel(expected, 1e-9));
  CHECK_THAT(potential_squared(1.01, 1.02, 1.00, 0.04 * 0.04, 0.5), WithinRel(expected, 1e-9));
  CHECK(potential_squared(1.02, 1.01, 1.03, 0.04 * 0.04, 0.5) == 0);
}

TEST_CASE("One pool or two", "[surface]") {
  CHECK(in_one_pool(0.5000, 0.5004, 0.40));
  CHECK_FALSE(in_one_pool(0.5000, 0.5020, 0.40));   // a step in the water
  CHECK_FALSE(in_one_pool(0.5000, 0.5004, 0.51));   // a sill between
  CHECK_FALSE(in_one_pool(0.5000, 0.5004, 0.5001)); // a film over a sill
}

TEST_CASE("Level pools and thin films are calm", "[surface]") {
  // A pit in the west, a slope of 2 % in the east, whose foot is open.
  yards::Terrain terrain =
      yards::rectangle(20, 3, 0.5, 0.03, [](double x, double) { return x < 5 ? 0.0 : 1 - 0.02 * x; });
  yards::open_side(terrain, 1);
  Workspace work(terrain, {});
  const auto calm = [&](int from, int to) {
    return is_calm(terrain.grid, from, to, 0, 3, Calm::whole, work);
  };
  for (std::size_t c = 0; c < 60; ++c) work.set_mobile(c, c % 20 < 10 ? 0.10 : 5e-6);
  CHECK(calm(0, 20)); // 5e-6 m, on the cliff 6e-8 m2/s
  work.set_mobile(20 + 4, 0.1005);
  CHECK_FALSE(calm(0, 10));
  CHECK(calm(12, 20));
  work.set_mobile(20 + 4, 0.10);
  work.q_x[work.frame.at(5, 1)] = 1e-3;
  CHECK_FALSE(calm(0, 10));
  work.q_x[work.frame.at(5, 1)] = 0;
  work.set_mobile(20 + 15, 1e-4); // 1e-6 m2/s
  CHECK_FALSE(calm(10, 20));
  work.set_mobile(20 + 15, 5e-6);
  work.set_mobile(20 + 19, 1e-4); // at the open edge
  CHECK_FALSE(calm(19, 20));
  CHECK(calm(0, 18));
}

TEST_CASE("What flows through a pool is calm for a whole yard alone", "[surface]") {
  const yards::Terrain terrain =
      yards::rectangle(10, 3, 0.1, 0.05, [](double x, double) { return -0.001 * x; });
  Workspace work(terrain, {});
  for (int c = 0; c < 30; ++c) work.set_mobile(c, 0.005); // sheet flow: the surface falls by 1e-4 m a cell
  CHECK(is_calm(terrain.grid, 0, 10, 0, 3, Calm::whole, work));
  CHECK_FALSE(is_calm(terrain.grid, 0, 10, 0, 3, Calm::part, work));
  for (int c = 0; c < 30; ++c) work.set_mobile(c, 0.005 + 0.001 * terrain.grid.x(c % 10)); // level
  CHECK(is_calm(terrain.grid, 0, 10, 0, 3, Calm::part, work));
  work.q_x[work.frame.at(5, 1)] = 1e-5F; // m2/s
  CHECK(is_calm(terrain.grid, 0, 10, 0, 3, Calm::whole, work));
  CHECK_FALSE(is_calm(terrain.grid, 0, 10, 0, 3, Calm::part, work));
}

TEST_CASE("Calm tiles are skipped where that is allowed", "[surface]") {
  const yards::Terrain terrain = yards::rectangle(64, 8, 0.5, 0.03, [](double, double) { return 0.0; });
  Workspace work(terrain, {});
  Tiles tiles(terrain.grid);
  Field depth(terrain.grid.cells(), 0.05);
  for (std::size_t c = 0; c < depth.size(); ++c) work.set_mobile(c, depth[c]);
  const auto moving = [&](Skip skip) {
    mark_tiles(terrain.grid, 1.0, skip, depth, work, tiles);
    return tiles.moving_cells;
  };
  CHECK(moving(Skip::dry) == 64 * 8);
  CHECK(moving(Skip::calm) == 0);
  CHECK(moving(Skip::calm_without_gain) == 0);
  CHECK(tiles.changing_in(0).size() == 1);
  work.supply[3] = 1e-6;
  CHECK(moving(Skip::calm) == 0);
  CHECK(moving(Skip::calm_without_gain) == 64 * 8);
  work.sink[3] = 2e-6;
  CHECK(moving(Skip::calm_without_gain) == 0);
}
