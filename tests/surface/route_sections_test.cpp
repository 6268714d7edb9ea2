#include "catch.hpp"

#include <algorithm>
#include <cmath>
#include <random>
#include <set>
#include <utility>
#include <vector>

#include <lowspot/surface/route_pools.hpp>
#include <lowspot/surface/route_section_turns.hpp>
#include <lowspot/surface/route_sections.hpp>

#include "yards.hpp"

using namespace lowspot::surface;
using namespace yards;

namespace {

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
        if (slopes.slope[k][s] >= 0) slopes.slope[k][s] = static_cast<float>(k < 2 ? slope : 0);
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

// A slope with bumps of a centimetre, some metre across.
Terrain bumpy(unsigned seed) {
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> phase(0, 6.28), wave(4, 9);
  double a[6];
  for (int k = 0; k < 6; ++k) a[k] = k % 2 ? wave(random) : phase(random);
  Terrain terrain = rectangle(40, 30, 0.1, 0.15, [&](double x, double y) {
    return 10 - 0.01 * x + 0.006 * std::sin(a[1] * y + a[0]) + 0.004 * std::sin(a[3] * (x - y) + a[2]) +
           0.004 * std::sin(a[5] * x + a[4]);
  });
  open_side(terrain, 1);
  return terrain;
}

// pit [m]: how much lower a cell beside it lies.
Ground swale(double side, double pit = 0) {
  Terrain terrain = rectangle(20, 11, 0.25, 0.15, [&](double x, double y) {
    const double low = std::abs(x - 2.5) < 0.2 && y < 0.25 ? pit : 0;
    return 10 - 0.005 * x + side * std::abs(y - 5.5 * 0.25) - low;
  });
  open_side(terrain, 1);
  return Ground(std::move(terrain));
}

} // namespace

TEST_CASE("cells across a swale that its water covers are one section", "[route_sections]") {
  Ground ground = swale(0.05);
  ground.fill(0.04, 0.005, 0); // covers two rows well on either side of the lowest, and a third by little
  ground.find();
  for (int i = 0; i < 19; ++i) {
    for (int j = 3; j <= 7; ++j) CHECK(ground.section(i, j) == ground.section(i, 5));
    for (const int j : {0, 1, 9, 10}) CHECK(ground.section(i, j) < 0);
    if (i > 0) CHECK(ground.section(i, 5) != ground.section(i - 1, 5));
  }
  // What feeds another has its turn before.
  const auto& all = ground.slopes.sections.sections;
  for (int i = 1; i < 19; ++i)
    CHECK(all[ground.section(i, 5)].turn_level < all[ground.section(i - 1, 5)].turn_level);
  forget_sections(ground.graph, ground.water, ground.slopes);
  CHECK(ground.slopes.sections.sections.empty());
  for (int i = 0; i < 20; ++i) CHECK(ground.section(i, 5) < 0);
}

TEST_CASE("water goes through the sections in turn, never in a circle", "[route_sections]") {
  int sections = 0, fed = 0, feeding = 0;
  for (unsigned seed = 1; seed <= 20; ++seed) {
    Ground ground(bumpy(seed));
    ground.fill(0.02, 0.01, 0);
    ground.find();
    const RouteSections& found = ground.slopes.sections;
    const int slots = static_cast<int>(ground.graph.bed.size());
    // What a cell of the ground or of a section has its turn before or with.
    const auto turn = [&](int s) {
      return found.section[s] >= 0 ? found.sections[found.section[s]].turn_level : ground.graph.bed[s];
    };
    for (int s = 0; s < slots; ++s) {
      double sum = 0;
      for (const auto& slope : ground.slopes.slope) sum += std::max(slope[s], 0.0f);
      for (int side = 0; side < 4; ++side) {
        const int to = ground.slopes.to[side][s];
        // What hands on a tenth of its water, or less, need not wait.
        if (to == s || to == slots || !(ground.slopes.slope[side][s] > 0.1 * sum)) continue;
        const bool here = found.section[s] >= 0, there = found.section[to] >= 0;
        if (here && there) CHECK(turn(s) > turn(to));
        if (here && !there) CHECK(turn(s) >= turn(to)); // sections go first
        if (!here && there) CHECK(turn(s) > turn(to));
        fed += !here && there;
        feeding += here && !there;
      }
    }
    sections += static_cast<int>(found.sections.size());
  }
  CHECK(sections > 500);
  CHECK(fed > 100);
  CHECK(feeding > 100);
}

TEST_CASE("sections are kept but for what a pool has reached", "[route_sections]") {
  Ground ground = swale(0.05, 0.1); // the pool there is what reaches the swale
  ground.fill(0.04, 0.005, 0);
  ground.find();
  const int all = static_cast<int>(ground.slopes.sections.sections.size());
  const int reached = ground.graph.slot[ground.terrain.grid.index(7, 5)];
  ground.water.pool_of[reached] = 0;
  keep_sections(ground.graph, ground.pools, ground.water, ground.slopes);
  CHECK(ground.section(7, 5) < 0);
  CHECK(ground.slopes.sections.joined[reached] == 0);
  CHECK(ground.section(7, 4) >= 0);
  CHECK(ground.section(8, 5) >= 0);
  CHECK(static_cast<int>(ground.slopes.sections.sections.size()) <= all);
}

TEST_CASE("a slope at a small angle to the cells has no sections", "[route_sections]") {
  // Sheet flow with ripples, by a tenth and by a fourth to the side of the rows.
  for (const double aside : {0.1, 0.25}) {
    Terrain terrain = rectangle(20, 11, 0.25, 0.15, [&](double x, double y) {
      return 10 - 0.004 * x - aside * 0.004 * y + 5e-5 * std::sin(9 * y);
    });
    open_side(terrain, 1);
    Ground ground(std::move(terrain));
    std::fill(ground.water.depth.begin(), ground.water.depth.end(), 0.02);
    ground.find();
    int inside = 0;
    for (const auto& one : ground.slopes.sections.sections) inside += one.end - one.begin;
    CHECK(inside <= (aside > 0.2 ? 0 : 20 * 11 / 3));
  }
}

TEST_CASE("a plane and a strip have no sections, nor has shallow water", "[route_sections]") {
  Ground ground = swale(0);
  ground.fill(0.04, 0.005, 0);
  ground.find();
  CHECK(ground.slopes.sections.sections.empty());
  Ground thin = swale(0.05);
  thin.fill(0.004, 0.005, 0);
  thin.find();
  CHECK(thin.slopes.sections.sections.empty());
}

TEST_CASE("ways down that were across a section fall again when it is none", "[route_sections]") {
  // Where all is forgotten, where the water has grown shallow, and where that beyond is part of a pool.
  for (const int what : {0, 1, 2}) {
    Ground ground = swale(0.05);
    ground.fill(0.04, 0.005, 0);
    ground.find();
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
      ground.find();
    }
    for (const auto& [side, s] : across) CHECK(ground.slopes.slope[side][s] > 0);
  }
}
