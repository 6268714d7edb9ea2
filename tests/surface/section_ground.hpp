// Ground whose water stands level across the flow, for the tests of sections.
#pragma once
#include <algorithm>
#include <cmath>
#include <utility>

#include <lowspot/surface/route_pools.hpp>
#include <lowspot/surface/route_sections.hpp>

#include "yards.hpp"

namespace section_ground {

using namespace lowspot::surface;
using yards::open_side;
using yards::rectangle;

// Ground with water on it in which sections are found.
struct Ground {
  explicit Ground(Terrain terrain_)
      : terrain(std::move(terrain_)), graph(terrain), water(graph), pools(graph, water), slopes(graph) {
    for (std::size_t s = 0; s < graph.bed.size(); ++s) water.pool_of[s] = -1;
  }
  // The water stands at a level and falls along x with the ground.
  void fill(double deepest, double slope, double bottom) {
    for (std::size_t s = 0; s < graph.bed.size(); ++s) {
      const double level = 10 - slope * terrain.grid.x(terrain.grid.column(graph.cell[s])) + bottom + deepest;
      water.depth[s] = std::max(level - terrain.elevation[graph.cell[s]], 0.0);
      for (int k = 0; k < 4; ++k)
        if (slopes.slope[k][s] >= 0) slopes.slope[k][s] = static_cast<float>(k == 1 ? slope : 0);
    }
  }
  void find() { find_sections(20, graph, pools, water, slopes); }
  int section(int i, int j) const { return slopes.sections.section[graph.slot[terrain.grid.index(i, j)]]; }
  Terrain terrain;
  RouteGraph graph;
  RoutedWater water;
  RoutedPools pools;
  RouteSlopes slopes;
};

// A swale along x with sides of this slope. pit [m]: how much lower a cell beside it lies.
inline Ground swale(double side, double pit = 0) {
  Terrain terrain = rectangle(20, 11, 0.25, 0.15, [&](double x, double y) {
    const double low = std::abs(x - 2.5) < 0.2 && y < 0.25 ? pit : 0;
    return 10 - 0.005 * x + side * std::abs(y - 5.5 * 0.25) - low;
  });
  open_side(terrain, 1);
  return Ground(std::move(terrain));
}

// A trough two cells wide and more that runs aslant to x: on one bank the bed rises down the flow.
inline Ground aslant(bool open_above = false) {
  Terrain terrain = rectangle(20, 15, 0.25, 0.15, [](double x, double y) {
    return 10 - 0.005 * x + 0.05 * std::max(std::abs(y - 1.3 - 0.2 * x) - 0.3, 0.0) - 1e-6 * y;
  });
  open_side(terrain, 1);
  if (open_above) open_side(terrain, 0);
  return Ground(std::move(terrain));
}

} // namespace section_ground
