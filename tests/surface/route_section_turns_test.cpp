#include "catch.hpp"

#include <algorithm>
#include <cmath>
#include <random>

#include <lowspot/surface/route_section_turns.hpp>

#include "section_ground.hpp"

using namespace section_ground;

namespace {

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

} // namespace

TEST_CASE("water goes through the sections in turn, never in a circle", "[route_section_turns]") {
  int sections = 0, fed = 0, feeding = 0;
  for (unsigned seed = 1; seed <= 100; ++seed) {
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
  CHECK(sections > 2500);
  CHECK(fed > 100);
  CHECK(feeding > 100);
}

TEST_CASE("sections are kept but for what a pool has reached", "[route_section_turns]") {
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
  // Water beside it goes down to it again.
  for (const int j : {4, 6}) {
    const int s = ground.graph.slot[ground.terrain.grid.index(7, j)];
    for (int side = 0; side < 4; ++side)
      if (ground.slopes.to[side][s] == reached) CHECK(ground.slopes.slope[side][s] > 0);
  }
  CHECK(ground.section(8, 5) >= 0);
  CHECK(static_cast<int>(ground.slopes.sections.sections.size()) <= all);
}
