#include "catch.hpp"

#include <cmath>
#include <random>

#include <lowspot/surface/route_lanes.hpp>
#include <lowspot/surface/route_pool_turns.hpp>
#include <lowspot/surface/route_sweep.hpp>

#include "yards.hpp"

using namespace lowspot::surface;
using namespace yards;

TEST_CASE("packs hold every slot once, in order, and none hands water to another of its pack",
          "[route_slopes]") {
  std::mt19937 random(5);
  std::uniform_real_distribution<double> unit(0, 1);
  for (const double bumps : {0.0, 0.02, 1.0}) { // the first: rows that are level
    Terrain terrain =
        rectangle(31, 22, 0.5, 0.05, [&](double x, double) { return 0.02 * x + bumps * unit(random); });
    open_side(terrain, 0);
    const RouteGraph graph(terrain);
    const RouteSlopes slopes(graph);
    const int slots = static_cast<int>(graph.bed.size());
    REQUIRE(slopes.pack.front() == 0);
    REQUIRE(slopes.pack.back() == slots);
    for (std::size_t k = 0; k + 1 < slopes.pack.size(); ++k) {
      const int begin = slopes.pack[k], end = slopes.pack[k + 1];
      CHECK(end > begin);
      CHECK(end - begin <= lanes);
      for (int s = begin; s < end; ++s) {
        CHECK(slopes.pack_of[s] == static_cast<int>(k));
        for (int side = 0; side < 4; ++side) CHECK((slopes.to[side][s] == s || slopes.to[side][s] >= end));
      }
    }
  }
}

TEST_CASE("above each slot lie those that hand water to it, and no others", "[route_slopes]") {
  std::mt19937 random(8);
  std::uniform_real_distribution<double> unit(0, 1);
  Terrain terrain =
      rectangle(23, 17, 0.5, 0.05, [&](double x, double) { return 0.02 * x + 0.1 * unit(random); });
  for (int j = 4; j < 12; ++j) terrain.crest_x[terrain.grid.x_face(11, j)] = 1; // a wall
  open_side(terrain, 0);
  const RouteGraph graph(terrain);
  const RouteSlopes slopes(graph);
  const int slots = static_cast<int>(graph.bed.size());
  int pairs = 0, links = 0;
  for (int s = 0; s < slots; ++s)
    for (int side = 0; side < 4; ++side) {
      const int to = slopes.to[side][s], from = slopes.above[s][side];
      if (to != s && to < slots) CHECK(slopes.above[to][side ^ 1] == s);
      links += to != s && to < slots;
      if (from < 0) continue;
      CHECK(slopes.to[side ^ 1][from] == s);
      ++pairs;
    }
  CHECK(pairs > slots);
  CHECK(pairs == links);
}

TEST_CASE("water backs up from a pool over a channel that hardly falls", "[route_sweep]") {
  // A swale of slope 0.005 runs into a pool whose rim holds it 0.13 m above the swale's foot. Steadily
  // dh/dx = S - n^2 q^2 / h^(10/3).
  const double n = 0.03, slope = 0.005, dx = 0.5, q = 0.006;
  Terrain terrain = rectangle(120, 1, dx, n, [&](double x, double) {
    return x < 50 ? 1 - slope * x : x < 55 ? 0.5 : x < 55.5 ? 1 - slope * 50 + 0.13 : 0.0;
  });
  open_side(terrain, 1);
  const RouteGraph graph(terrain);
  RoutedWater water(graph);
  RoutedPools pools(graph, water);
  RouteSlopes slopes(graph);
  RoutedFaces faces(graph, 1);
  water.supply[graph.slot[0]] = q / dx;
  for (int k = 0; k < 2000; ++k) {
    order_pools(graph, pools, water);
    sweep_downhill(20, graph, pools, water, slopes, faces);
    pools.rearrange(water);
    sweep_uphill(20, graph, pools, water, slopes);
  }
  // Integrates upstream from the cell nearest the pool that is not part of it.
  const double level = pools.level_at(graph.slot[99], water) - graph.datum + terrain.elevation[119];
  double h = level - terrain.elevation[99];
  REQUIRE(h > 0.1);
  double x = 49.75;
  // Around 20 m the level of the pool meets the bed of the swale.
  for (const double at : {45.0, 40.0, 35.0, 30.0, 20.0, 10.0}) {
    while (x > at + 1e-9) {
      const double half = h - 0.005 * (slope - n * n * q * q / std::pow(h, 10.0 / 3.0));
      h -= 0.01 * (slope - n * n * q * q / std::pow(half, 10.0 / 3.0));
      x -= 0.01;
    }
    const int left = static_cast<int>(at / dx) - 1;
    const auto depth_at = [&](int cell) {
      const int s = graph.slot[cell];
      return water.pool_of[s] >= 0 ? pools.level_at(s, water) - graph.bed[s] : water.depth[s];
    };
    CAPTURE(at);
    CHECK_THAT(0.5 * (depth_at(left) + depth_at(left + 1)), WithinRel(h, 0.08));
  }
}
