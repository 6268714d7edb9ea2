#include "catch.hpp"

#include <cmath>
#include <set>

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
  forget_sections(ground.slopes);
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
