#include "catch.hpp"

#include <lowspot/terrain/pools.hpp>

#include "three_pits.hpp"

using namespace lowspot;
using namespace lowspot::terrain;

TEST_CASE("outermost pools of three pits, and where the water of a shallow one ends up", "[pools]") {
  const Ground ground = three_pits();
  const DepressionTree tree = build_depression_tree(ground);
  const Pools named = outermost_pools(ground, tree, 0.006);
  int reported = 0;
  for (const Pool& pool : named.pools) reported += pool.reported;
  CHECK(reported == 2);
  // With a least depth over that of C, its water leaves the yard; that of AB runs through it and leaves, too.
  const Pools deep = outermost_pools(ground, tree, 0.6);
  const int in_c = tree.pit[ground.grid.index(12, 0)], in_a = tree.pit[ground.grid.index(0, 0)];
  CHECK(pit_of_reported(tree, named, in_c) == in_c);
  CHECK(pit_of_reported(tree, deep, in_c) == -1);
  CHECK(pit_of_reported(tree, deep, in_a) == in_a);
  CHECK(pit_of_reported(tree, deep, pit_outside) == -1);
}

TEST_CASE("water under a level stops at walls that stand above it", "[pools]") {
  Ground ground = bare_ground(4, 1, 2, [](int, int) { return 1.0; });
  ground.crest_x[ground.grid.x_face(2, 0)] = 1.3;
  std::vector<int> cells;
  double volume = 0;
  Mask seen(4, 0);
  flood(ground, 0, 1.2, seen, cells, volume);
  CHECK(cells.size() == 2);
  CHECK_THAT(volume, WithinAbs(2 * 4 * 0.2, 1e-12));
}
