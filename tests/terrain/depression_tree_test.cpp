#include "catch.hpp"

#include <lowspot/terrain/depression_tree.hpp>

#include "filling.hpp"
#include "three_pits.hpp"

using namespace lowspot;
using namespace lowspot::terrain;

TEST_CASE("three pits: the hierarchy, its levels and volumes", "[depression_tree]") {
  const Ground ground = three_pits();
  const DepressionTree tree = build_depression_tree(ground);
  auto with_volume = [&](double volume) -> const Depression* {
    for (const Depression& d : tree.depressions)
      if (std::abs(d.volume - volume) < 1e-9) return &d;
    return nullptr;
  };
  const Depression* a = with_volume(12.0);
  const Depression* b = with_volume(5.4);
  const Depression* ab = with_volume(33.6);
  const Depression* c = with_volume(13.2);
  REQUIRE(a);
  REQUIRE(b);
  REQUIRE(ab);
  REQUIRE(c);
  CHECK(a->bottom == 0.0);
  CHECK(a->spill_level == 0.5);
  CHECK(b->bottom == 0.2);
  CHECK(b->spill_level == 0.5);
  CHECK(ab->spill_level == 0.8);
  CHECK(ab->bottom == 0.0);
  CHECK(c->spill_level == 0.65);
  CHECK(c->spill_to == -1);
  CHECK(tree.closed.empty());
  // A and B are what AB is made of.
  const Depression& left = tree.depressions[ab->left];
  const Depression& right = tree.depressions[ab->right];
  CHECK(((&left == a && &right == b) || (&left == b && &right == a)));
  // Ground that sheds to each pit: 30, 30 and 36 m2.
  std::vector<int> shed(tree.depressions.size(), 0);
  int outside = 0;
  for (int pit : tree.pit) pit == pit_outside ? ++outside : ++shed[pit];
  CHECK(shed[a - tree.depressions.data()] == 30);
  CHECK(shed[b - tree.depressions.data()] == 30);
  CHECK(shed[c - tree.depressions.data()] == 36);
  CHECK(outside == 6);
}

TEST_CASE("finished basins come in the order of their spill levels, each once", "[depression_tree]") {
  const Ground ground = rough_ground(40, 30, 4, 1e-9, 0.1, 0.05);
  const DepressionTree tree = build_depression_tree(ground);
  std::vector<int> seen(tree.depressions.size(), 0);
  double last = -1e30;
  for (int d : tree.finished) {
    ++seen[d];
    CHECK(tree.depressions[d].spill_level >= last);
    last = tree.depressions[d].spill_level;
  }
  for (int d : tree.closed) ++seen[d];
  for (const Depression& d : tree.depressions) {
    if (d.left < 0) continue;
    ++seen[d.left];
    ++seen[d.right];
    CHECK(d.bottom == std::min(tree.depressions[d.left].bottom, tree.depressions[d.right].bottom));
    CHECK(d.spill_level >= tree.depressions[d.left].spill_level);
  }
  for (int times : seen) CHECK(times == 1); // a root or a part, never both
}

TEST_CASE("an inactive ground has no basins and a slope none either", "[depression_tree]") {
  Ground ground = bare_ground(5, 5, 1, [](int i, int j) { return 0.1 * i + 0.01 * j; });
  open_side(ground, Side::west);
  DepressionTree tree = build_depression_tree(ground);
  CHECK(tree.depressions.empty());
  for (int pit : tree.pit) CHECK(pit == pit_outside);
  ground.active.assign(25, 0);
  ground.edges.clear();
  tree = build_depression_tree(ground);
  CHECK(tree.depressions.empty());
  for (int pit : tree.pit) CHECK(pit == pit_inactive);
}
