#include "catch.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>
#include <vector>

#include <lowspot/surface/route_pools.hpp>
#include <lowspot/surface/route_sections.hpp>

#include "yards.hpp"

using namespace lowspot::surface;
using namespace yards;

namespace {

struct Ground {
  explicit Ground(Terrain terrain_)
      : terrain(std::move(terrain_)), graph(terrain), water(graph), slopes(graph) {
    for (std::size_t s = 0; s < graph.bed.size(); ++s) water.pool_of[s] = -1;
  }
  // The water stands at a level and falls along x with the ground.
  void fill(double deepest, double slope, double bottom) {
    for (std::size_t s = 0; s < graph.bed.size(); ++s) {
      const double level = 10 - slope * terrain.grid.x(terrain.grid.column(graph.cell[s])) + bottom + deepest;
      water.depth[s] = std::max(level - terrain.elevation[graph.cell[s]], 0.0);
      for (int k = 0; k < 4; ++k)
        if (slopes.slope[k][s] >= 0) slopes.slope[k][s] = static_cast<float>(k < 2 ? slope : 0);
    }
  }
  int section(int i, int j) const { return slopes.sections.section[graph.slot[terrain.grid.index(i, j)]]; }
  Terrain terrain;
  RouteGraph graph;
  RoutedWater water;
  RouteSlopes slopes;
};

Ground swale(double side) {
  Terrain terrain = rectangle(20, 11, 0.25, 0.15, [&](double x, double y) {
    return 10 - 0.005 * x + side * std::abs(y - 5.5 * 0.25);
  });
  open_side(terrain, 1);
  return Ground(std::move(terrain));
}

} // namespace

TEST_CASE("cells across a swale that its water covers are one section", "[route_sections]") {
  Ground ground = swale(0.05);
  ground.fill(0.04, 0.005, 0); // covers two rows well on either side of the lowest, and a third by little
  find_sections(20, ground.graph, ground.water, ground.slopes);
  for (int i = 0; i < 19; ++i) {
    for (int j = 3; j <= 7; ++j) CHECK(ground.section(i, j) == ground.section(i, 5));
    for (const int j : {0, 1, 9, 10}) CHECK(ground.section(i, j) < 0);
    if (i > 0) CHECK(ground.section(i, 5) != ground.section(i - 1, 5));
  }
  // What feeds another has its turn before.
  const auto& all = ground.slopes.sections.sections;
  for (int i = 1; i < 19; ++i) CHECK(all[ground.section(i, 5)].level < all[ground.section(i - 1, 5)].level);
  forget_sections(ground.graph, ground.water, ground.slopes);
  CHECK(ground.slopes.sections.sections.empty());
  for (int i = 0; i < 20; ++i) CHECK(ground.section(i, 5) < 0);
}

TEST_CASE("a plane and a strip have no sections, nor has shallow water", "[route_sections]") {
  Ground ground = swale(0);
  ground.fill(0.04, 0.005, 0);
  find_sections(20, ground.graph, ground.water, ground.slopes);
  CHECK(ground.slopes.sections.sections.empty());
  Ground thin = swale(0.05);
  thin.fill(0.004, 0.005, 0);
  find_sections(20, thin.graph, thin.water, thin.slopes);
  CHECK(thin.slopes.sections.sections.empty());
}

TEST_CASE("ways down that were across a section fall again when it is none", "[route_sections]") {
  // Where all is forgotten, where the water has grown shallow, and where that beyond is part of a pool.
  for (const int what : {0, 1, 2}) {
    Ground ground = swale(0.05);
    ground.fill(0.04, 0.005, 0);
    find_sections(20, ground.graph, ground.water, ground.slopes);
    std::vector<std::pair<int, int>> across; // side and slot
    for (std::size_t s = 0; s < ground.graph.bed.size(); ++s)
      for (int side = 0; side < 4; ++side)
        if (ground.slopes.sections.level_sides[s] >> side & 1) across.emplace_back(side, s);
    CHECK(across.size() > 50);
    for (const auto& [side, s] : across) CHECK(ground.slopes.slope[side][s] == 0);
    if (what == 0) {
      forget_sections(ground.graph, ground.water, ground.slopes);
    } else {
      for (std::size_t s = 0; s < ground.graph.bed.size(); ++s)
        ground.water.depth[s] = std::min(ground.water.depth[s], 0.002);
      for (int i = 0; what == 2 && i < 20; ++i) {
        const int lowest = ground.graph.slot[ground.terrain.grid.index(i, 5)];
        ground.water.pool_of[lowest] = 0;
        ground.water.level[lowest] = ground.graph.bed[lowest] + 0.002;
      }
      find_sections(20, ground.graph, ground.water, ground.slopes);
    }
    for (const auto& [side, s] : across) CHECK(ground.slopes.slope[side][s] > 0);
  }
}
