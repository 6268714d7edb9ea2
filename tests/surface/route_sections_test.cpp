#include "catch.hpp"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include <lowspot/surface/route_sections.hpp>

#include "section_ground.hpp"

using namespace section_ground;

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

TEST_CASE("a slope at a small angle to the cells has no sections", "[route_sections]") {
  // Its water falls across by a third of what the bed does, as in the wake of a wave, but has no bank there.
  Terrain terrain =
      rectangle(20, 11, 0.25, 0.15, [](double x, double y) { return 10 - 0.004 * x - 0.001 * y; });
  open_side(terrain, 1);
  open_side(terrain, 3);
  Ground ground(std::move(terrain));
  const auto& grid = ground.terrain.grid;
  for (std::size_t s = 0; s < ground.graph.bed.size(); ++s)
    ground.water.depth[s] = 0.02 + 0.0007 * grid.y(grid.row(ground.graph.cell[s]));
  ground.find();
  CHECK(ground.slopes.sections.deep.size() > 100);
  CHECK(ground.slopes.sections.sections.empty());
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

TEST_CASE("where the bed rises down the flow a cell passes water on by another of its section",
          "[route_sections]") {
  Ground ground = aslant();
  ground.fill(0.05, 0.005, 0);
  ground.find();
  const RouteSections& found = ground.slopes.sections;
  int carried = 0;
  for (int i = 2; i < 18; ++i)
    for (int j = 0; j < 15; ++j) {
      const auto& grid = ground.terrain.grid;
      const int s = ground.graph.slot[grid.index(i, j)];
      if (found.section[s] < 0) continue;
      const int n = found.number[s], carrier = found.nodes[found.carrier[n]];
      CAPTURE(i, j);
      CHECK(found.section[carrier] == found.section[s]);
      CHECK(found.toward[n] == 1);
      CHECK(ground.slopes.slope[0][s] <= 0); // nothing against the flow
      const bool rises =
          ground.terrain.elevation[grid.index(i + 1, j)] > ground.terrain.elevation[grid.index(i, j)];
      CHECK((carrier == s) == !rises);
      if (!rises) continue;
      ++carried;
      CHECK(ground.slopes.slope[1][carrier] > 0);
      if (ground.slopes.to[0][s] != s) CHECK((found.level_sides[s] & held_side(0)) != 0);
    }
  CHECK(carried > 20);
  // What was held falls again.
  forget_sections(ground.graph, ground.water, ground.slopes);
  for (int i = 2; i < 18; ++i)
    for (int j = 0; j < 15; ++j) {
      const int s = ground.graph.slot[ground.terrain.grid.index(i, j)];
      CHECK(found.level_sides[s] == 0);
      for (int side = 0; side < 4; ++side)
        if (ground.slopes.to[side][s] != s && ground.water.depth[s] > 0 && side != 1)
          CHECK(ground.slopes.slope[side][s] >= 0);
    }
}

TEST_CASE("what leaves the yard from a section goes on leaving it", "[route_sections]") {
  Ground ground = aslant(true);
  ground.fill(0.05, 0.005, 0);
  const int slots = static_cast<int>(ground.graph.bed.size());
  const auto over_edges = [&] {
    std::vector<float> found;
    for (int s = 0; s < slots; ++s)
      for (int side = 0; side < 4; ++side)
        if (ground.slopes.to[side][s] == slots) found.push_back(ground.slopes.slope[side][s]);
    return found;
  };
  const std::vector<float> before = over_edges();
  CHECK(before.size() > 8);
  ground.find();
  int at_edge = 0;
  for (int j = 0; j < 15; ++j) at_edge += ground.section(0, j) >= 0;
  CHECK(at_edge > 5);
  CHECK(over_edges() == before);
  forget_sections(ground.graph, ground.water, ground.slopes);
  CHECK(over_edges() == before);
}
