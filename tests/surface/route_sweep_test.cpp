#include "catch.hpp"

#include <cmath>

#include <lowspot/surface/route_roots.hpp>
#include <lowspot/surface/route_sweep.hpp>

#include "yards.hpp"

using namespace lowspot::surface;
using namespace yards;

TEST_CASE("the kinematic balance of a cell is solved from any guess", "[route_sweep]") {
  for (const double a : {0.0, 1e-3, 1.0, 1e3, 1e6})
    for (const double b : {1e-8, 1e-4, 1e-2, 1.0})
      for (const double guess : {0.0, 1e-4, 0.01, 0.3, 2.0}) {
        const double y = drained_root(a, b, guess);
        CHECK_THAT(y * y * y * (1 + a * y * y), WithinRel(b, 1e-3));
      }
}

TEST_CASE("so is the balance of a cell whose level matters", "[route_sweep]") {
  for (const double a : {1e-3, 1.0, 1e3})
    for (const double own : {0.1, 0.5, 1.0})
      for (const double drop : {-0.05, -1e-3, 0.0, 1e-3, 0.05})
        for (const double b : {1e-6, 1e-3, 0.03, 0.4})
          for (const double guess : {0.0, 1e-3, 0.1, 2.0}) {
            const double root = drained_root(a, own, drop, b, guess), h = std::min(root * root * root, b);
            if (own * b + drop <= 0) {
              CHECK_THAT(h, WithinRel(b, 1e-9));
              continue;
            }
            CHECK(h <= b);
            CHECK(own * h + drop >= -1e-9 * b);
            const double fall = std::max(own * h + drop, 0.0);
            CAPTURE(a, own, drop, b, guess, h);
            // As a change of the depth: the left side is steep where the fall is nothing.
            const double misfit = h + a * std::pow(h, 5.0 / 3.0) * std::sqrt(fall) - b;
            const double step = 2e-3 * h;
            const double moved =
                h + step + a * std::pow(h + step, 5.0 / 3.0) * std::sqrt(own * (h + step) + drop) - b;
            CHECK(std::abs(misfit) <= std::abs(moved - misfit));
          }
}

TEST_CASE("an even slope flows at normal depth, whatever its direction", "[route_sweep]") {
  // Steady rain on a plane at 45 degrees: along each streamline q = r s, s from the closed edges.
  Terrain terrain = rectangle(24, 24, 0.5, 0.05, [](double x, double y) { return 1 - 0.02 * (x + y); });
  open_side(terrain, 1);
  open_side(terrain, 3);
  const RouteGraph graph(terrain);
  RoutedWater water(graph);
  RoutedPools pools(graph, water);
  RouteSlopes slopes(graph);
  RoutedFaces faces(graph, terrain.open_faces.size());
  const double rain = 50 * mm_per_hour;
  std::fill(water.supply.begin(), water.supply.end(), rain);
  for (int k = 0; k < 200; ++k) {
    sweep_downhill(20, graph, pools, water, slopes, faces);
    sweep_uphill(graph, pools, water, slopes);
  }
  const double alpha = std::sqrt(0.02 * std::sqrt(2.0)) / 0.05;
  for (const int j : {4, 6, 8}) { // streamlines that start at the south edge
    const double s = (j + 0.5) * 0.5 * std::sqrt(2.0);
    const double h = std::pow(rain * s / alpha, 0.6);
    CHECK_THAT(water.depth[graph.slot[terrain.grid.index(20, j)]], WithinRel(h, 0.07));
  }
  // The same on both sides of the diagonal.
  for (int i = 0; i < 24; ++i)
    for (int j = 0; j < i; ++j)
      CHECK_THAT(water.depth[graph.slot[terrain.grid.index(i, j)]],
                 WithinRel(water.depth[graph.slot[terrain.grid.index(j, i)]], 1e-9));
}
