// When pools have their turns: before what they spill onto, after what they cover, the farther first.
#include "catch.hpp"

#include <lowspot/surface/route_pool_turns.hpp>

#include "yards.hpp"

using namespace lowspot::surface;
using namespace yards;

namespace {

// Two hollows, floors 0.0 and 0.1, parted at 0.4, that spill at 0.9 over the end `out`.
struct Hollows {
  explicit Hollows(bool out_east)
      : terrain(rectangle(8, 1, 1, 0.05,
                          [&](double x, double) {
                            constexpr double bed[8] = {0.2, 0.0, 0.2, 0.4, 0.1, 0.3, 0.9, 0.5};
                            return bed[out_east ? static_cast<int>(x) : 7 - static_cast<int>(x)];
                          })),
        graph((open_side(terrain, out_east ? 1 : 0), terrain)), water(graph), pools(graph, water) {
    far = water.pool_of[graph.slot[out_east ? 1 : 6]];
    near = water.pool_of[graph.slot[out_east ? 4 : 3]];
  }
  void fill(int depression, double volume) {
    pools.pool(depression).volume = volume;
    pools.settle(depression, water);
    pools.pool(depression).turn_level = pools.pool(depression).level;
  }
  Terrain terrain;
  RouteGraph graph;
  RoutedWater water;
  RoutedPools pools;
  int far = -1, near = -1; // from the way out
};

} // namespace

TEST_CASE("a pool has its turn after what it covers and before what it spills onto", "[route_pool_turns]") {
  Hollows hollows(true);
  hollows.fill(hollows.far, 0.15);
  hollows.fill(hollows.near, 0.05);
  order_pools(hollows.graph, hollows.pools, hollows.water);
  CHECK_THAT(hollows.pools.pool(hollows.far).turn, WithinAbs(0.15, 1e-14));
  CHECK_THAT(hollows.pools.pool(hollows.near).turn, WithinAbs(0.15, 1e-14));
  // What comes to it in the step may make it spill.
  hollows.pools.pool(hollows.far).last_inflow = 5;
  order_pools(hollows.graph, hollows.pools, hollows.water);
  CHECK_THAT(hollows.pools.pool(hollows.far).turn, WithinAbs(0.4, 1e-14));
}

TEST_CASE("of pools above what parts them the farther from the way out comes first", "[route_pool_turns]") {
  for (const bool east : {true, false})
    for (const double higher : {-0.01, 0.01}) { // whichever stands higher
      Hollows hollows(east);
      hollows.fill(hollows.far, 0.2 + 3 * 0.25);
      hollows.fill(hollows.near, 0.2 + 2 * (0.15 + higher));
      order_pools(hollows.graph, hollows.pools, hollows.water);
      const RoutedPool &far = hollows.pools.pool(hollows.far), &near = hollows.pools.pool(hollows.near);
      CAPTURE(east, higher, far.level, near.level);
      REQUIRE(std::min(far.level, near.level) > 0.4);
      CHECK(far.turn_rank < near.turn_rank);
      CHECK(far.turn >= near.turn);
      CHECK(near.turn >= near.level);
      CHECK(far.turn >= far.level);
    }
}

TEST_CASE("pools below what parts them do not wait for each other", "[route_pool_turns]") {
  Hollows hollows(true);
  hollows.fill(hollows.far, 0.2 + 3 * 0.15);  // 0.35
  hollows.fill(hollows.near, 0.2 + 2 * 0.25); // 0.55 if alone: above the sill
  order_pools(hollows.graph, hollows.pools, hollows.water);
  CHECK(hollows.pools.stands_in(hollows.far) != hollows.pools.stands_in(hollows.near));
  CHECK(hollows.pools.pool(hollows.far).turn < hollows.pools.pool(hollows.near).turn);
}
