#include <lowspot/surface/tiles.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/surface/step.hpp>

#include "catch.hpp"
#include "yards.hpp"

using namespace lowspot::surface;
using lowspot::Field;

namespace {

struct Parts {
  explicit Parts(const Terrain& terrain)
      : work(terrain, {}), tiles(terrain.grid), depth(terrain.grid.cells(), 0.0), taken(depth) {}
  Water water() { return {depth, taken, left, crossed}; }
  Workspace work;
  Tiles tiles;
  Field depth, taken, left = Field(200, 0.0), crossed;
};

void mark_all(const lowspot::Grid& grid, Tiles& tiles) {
  for (auto* spans : {&tiles.moving_spans, &tiles.changing_spans})
    for (auto& band : *spans) band.assign(1, {0, grid.nx});
  std::fill(tiles.moving.begin(), tiles.moving.end(), 1);
}

} // namespace

TEST_CASE("Skipping dry tiles changes nothing", "[surface]") {
  Terrain terrain = yards::rectangle(150, 60, 0.25, 0.03, [](double x, double y) {
    return 0.02 * x + 0.01 * y + 0.02 * std::sin(2 * x) * std::sin(3 * y);
  });
  for (double& storage : terrain.depression_storage) storage = 0.001;
  yards::open_side(terrain, 0);
  Parts skipping(terrain), plain(terrain);
  const double dt = 0.1;
  double fewest = 1e9;
  for (int k = 0; k < 800; ++k) {
    for (Parts* parts : {&skipping, &plain}) {
      // A spout in the upper corner, a soaking patch, and drizzle that only fills depressions for a while.
      parts->work.supply[55 * 150 + 140] = k < 400 ? 0.02 : 0;
      for (int i = 0; i < 40; ++i) parts->work.supply[10 * 150 + i] = 2e-5;
      for (int i = 60; i < 100; ++i) parts->work.sink[40 * 150 + i] = 1e-4;
    }
    if (k % Tiles::steps_valid == 0) {
      mark_tiles(terrain.grid, dt * Tiles::steps_valid, Skip::dry, skipping.depth, skipping.work,
                 skipping.tiles);
      fewest = std::min(fewest, skipping.tiles.moving_cells);
    }
    mark_all(terrain.grid, plain.tiles);
    hydraulic_steps(terrain.grid, begin_steps(terrain, {}, dt, skipping.work), 1, skipping.tiles,
                    skipping.work, skipping.water());
    hydraulic_steps(terrain.grid, begin_steps(terrain, {}, dt, plain.work), 1, plain.tiles, plain.work,
                    plain.water());
  }
  CHECK(fewest < 0.5 * terrain.grid.cells());
  CHECK(skipping.depth == plain.depth);
  CHECK(skipping.work.q_x == plain.work.q_x);
  CHECK(skipping.work.q_y == plain.work.q_y);
  CHECK(skipping.taken == plain.taken);
  CHECK(skipping.left == plain.left);
  CHECK(plain.depth[30 * 150 + 20] == 0); // some of it never saw water
}

TEST_CASE("Tiles around water move, and rest when it is gone", "[surface]") {
  const Terrain terrain = yards::rectangle(200, 80, 0.25, 0.03, [](double, double) { return 0.0; });
  Parts parts(terrain);
  const auto mark = [&] { mark_tiles(terrain.grid, 1.0, Skip::dry, parts.depth, parts.work, parts.tiles); };
  mark();
  CHECK(parts.tiles.moving_cells == 0);
  parts.depth[40 * 200 + 100] = 0.01; // tile column 3, band 5: its halo is columns 2-4, bands 4-6
  mark();
  CHECK(parts.tiles.moving_cells == 9 * Tiles::width * Tiles::height);
  REQUIRE(parts.tiles.moving_in(40).size() == 1);
  CHECK(parts.tiles.moving_in(40)[0].begin == 64);
  CHECK(parts.tiles.moving_in(40)[0].end == 160);
  CHECK(parts.tiles.moving_in(20).empty());
  parts.work.q_x[parts.work.frame.at(100, 40)] = 1.0;
  parts.depth[40 * 200 + 100] = 0;
  mark();
  CHECK(parts.work.q_x[parts.work.frame.at(100, 40)] == 0);
  parts.work.supply[0] = 1e-6;
  mark();
  CHECK(parts.tiles.changing_in(0).size() == 1);
}
