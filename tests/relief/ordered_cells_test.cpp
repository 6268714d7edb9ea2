#include "catch.hpp"

#include <algorithm>
#include <numeric>

#include <lowspot/relief/ordered_cells.hpp>

#include "grounds.hpp"

using namespace lowspot;
using namespace lowspot::relief;

namespace {
std::vector<int> plainly_ordered(const Mask& active, const Field& z) {
  std::vector<int> order;
  for (std::size_t c = 0; c < z.size(); ++c)
    if (active[c]) order.push_back(static_cast<int>(c));
  std::stable_sort(order.begin(), order.end(), [&](int a, int b) { return z[a] < z[b]; });
  return order;
}
} // namespace

TEST_CASE("cells in the order of their elevation, ties by index, gaps left out", "[ordered_cells]") {
  for (unsigned seed = 1; seed <= 10; ++seed) {
    const Land land = rough_land(61, 47, seed, seed % 2 ? 1e-9 : 0.05, 0, 0.1);
    CHECK(ordered_cells(land.active, land.elevation) == plainly_ordered(land.active, land.elevation));
  }
}

TEST_CASE("differences far below the range count", "[ordered_cells]") {
  // One peak a million metres high leaves all others within one step of the reduced elevation.
  Land land = rough_land(40, 40, 3, 1e-12, 0, 0);
  for (double& z : land.elevation) z = (z - 50) * 1e-6;
  land.elevation[77] = 1e6;
  land.elevation[78] = -5;
  CHECK(ordered_cells(land.active, land.elevation) == plainly_ordered(land.active, land.elevation));
}

TEST_CASE("level ground and no ground", "[ordered_cells]") {
  const Mask active{1, 1, 0, 1};
  CHECK(ordered_cells(active, Field{2, 2, 2, 2}) == std::vector<int>{0, 1, 3});
  CHECK(ordered_cells(Mask{0, 0}, Field{1, 2}).empty());
}
