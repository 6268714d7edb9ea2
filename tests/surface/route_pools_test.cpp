#include "catch.hpp"

#include <lowspot/surface/route_pools.hpp>

#include "yards.hpp"

using namespace lowspot::surface;
using namespace yards;

namespace {

// Two hollows, floors 0.0 and 0.1, parted at 0.4, that spill at 0.9 over the east end.
Terrain two_hollows(double storage) {
  constexpr double bed[8] = {0.2, 0.0, 0.2, 0.4, 0.1, 0.3, 0.9, 0.5};
  Terrain terrain = rectangle(8, 1, 1, 0.05, [&](double x, double) { return bed[static_cast<int>(x)]; });
  open_side(terrain, 1);
  terrain.depression_storage.assign(8, storage);
  return terrain;
}

struct Held {
  explicit Held(double storage) : graph(two_hollows(storage)), water(graph), pools(graph, water) {
    for (int s = 0; s < 8; ++s) water.depth[s] = storage;
  }
  int pool_at(int cell) const { return water.pool_of[graph.slot[cell]]; }
  double volume() const { // above the beds
    double sum = 0;
    for (int d : pools.active) sum += pools.pool(d).volume;
    return sum;
  }
  RouteGraph graph;
  RoutedWater water;
  RoutedPools pools;
};

} // namespace

TEST_CASE("pools stand in every pit from the start, empty", "[route_pools]") {
  const Held held(0);
  CHECK(held.pools.active.size() == 2);
  CHECK(held.pool_at(1) >= 0);
  CHECK(held.pool_at(4) >= 0);
  CHECK(held.pool_at(0) == -1);
  CHECK(held.volume() == 0);
}

TEST_CASE("a pool takes the level that holds its volume", "[route_pools]") {
  Held held(0);
  const int d = held.pool_at(1);
  RoutedPool& pool = held.pools.pool(d);
  pool.volume = 0.15;
  held.pools.settle(d, held.water);
  CHECK_THAT(pool.level, WithinAbs(0.15, 1e-14));
  CHECK(pool.members == 1);
  pool.volume = 0.2 + 3 * 0.1; // 0.1 over both shoulders
  held.pools.settle(d, held.water);
  CHECK_THAT(pool.level, WithinAbs(0.3, 1e-14));
  CHECK(pool.members == 3);
  held.pools.settle_depths(d, held.water);
  CHECK_THAT(held.water.depth[held.graph.slot[1]], WithinAbs(0.3, 1e-14));
  CHECK_THAT(held.water.depth[held.graph.slot[2]], WithinAbs(0.1, 1e-14));
  pool.volume = 0.05;
  held.pools.settle(d, held.water);
  CHECK_THAT(pool.level, WithinAbs(0.05, 1e-14));
  CHECK(held.pool_at(0) == -1);
}

TEST_CASE("a cell that is reached brings its film and has its depressions filled", "[route_pools]") {
  Held held(0.01);
  const int d = held.pool_at(1);
  held.water.depth[held.graph.slot[0]] = 0.004; // lacks 6 mm
  held.water.depth[held.graph.slot[2]] = 0.013; // has 3 mm of film
  held.pools.pool(d).volume = 0.4;
  held.pools.settle(d, held.water);
  const RoutedPool& pool = held.pools.pool(d);
  CHECK(pool.members == 3);
  CHECK_THAT(pool.volume, WithinAbs(0.4 - 0.006 + 0.003, 1e-14));
  CHECK_THAT(pool.level - held.graph.bed[held.graph.slot[1]], WithinAbs(0.2 + 0.197 / 3, 1e-14));
}

TEST_CASE("a pool has less than nothing for a dry stream that lies lower than some of its cells",
          "[route_pools]") {
  constexpr double bed[5] = {0.3, 0.0, 0.1, 0.9, 0.5}, storage = 0.1;
  Terrain terrain = rectangle(5, 1, 1, 0.05, [&](double x, double) { return bed[static_cast<int>(x)]; });
  open_side(terrain, 1);
  terrain.depression_storage.assign(5, storage);
  const RouteGraph graph(terrain);
  RoutedWater water(graph);
  RoutedPools pools(graph, water);
  for (int s = 0; s < 5; ++s) water.depth[s] = storage;
  const int bottom = graph.slot[1], stream = graph.slot[2], high = graph.slot[0], d = water.pool_of[bottom];
  RoutedPool& pool = pools.pool(d);
  water.depth[stream] = storage + 1, water.level[stream] = graph.bed[stream] + 1;
  pool.volume = 0.5;
  pools.settle(d, water);
  REQUIRE(pool.streams.size() == 1);
  REQUIRE(water.pool_of[high] == d);
  // All but a little is drawn off, and the stream has run dry and drunk what its depressions held.
  pool.volume = 0.005;
  water.depth[stream] = 0, water.level[stream] = graph.bed[stream];
  pools.settle(d, water);
  CHECK(pool.volume == 0.005);
  CHECK(water.depth[stream] == 0);
  CHECK(pool.members == 1);
  CHECK_THAT(pool.level, WithinAbs(graph.bed[bottom] + 0.005, 1e-14));
}

TEST_CASE("pools meet when both have risen to the sill and part when they fall below it", "[route_pools]") {
  Held held(0);
  const int a = held.pool_at(1), b = held.pool_at(4);
  held.pools.pool(a).volume = 0.2 + 3 * 0.23; // 0.43: 3 cm above the sill
  held.pools.settle(a, held.water);
  held.pools.rearrange(held.water);
  CHECK(held.pools.active.size() == 2); // the other is still low
  held.pools.pool(b).volume = 0.2 + 2 * 0.11;
  held.pools.settle(b, held.water);
  const double before = held.volume();
  held.pools.rearrange(held.water);
  REQUIRE(held.pools.active.size() == 1);
  const int both = held.pools.active[0];
  RoutedPool& pool = held.pools.pool(both);
  CHECK_THAT(pool.volume, WithinAbs(before, 1e-15));
  CHECK(pool.level > 0.4);
  CHECK_THAT(6 * pool.level - 1.2, WithinAbs(before, 1e-14));
  pool.volume = 0.7;
  held.pools.settle(both, held.water);
  const double level = pool.level;
  CHECK(level < 0.4);
  held.pools.rearrange(held.water);
  REQUIRE(held.pools.active.size() == 2);
  CHECK(held.volume() == 0.7);
  for (int d : held.pools.active) CHECK_THAT(held.pools.pool(d).level, WithinAbs(level, 1e-14));
}

TEST_CASE("the rim of a pool is where it leaves its own ground", "[route_pools]") {
  const Held held(0);
  const RoutedPool& a = held.pools.pool(held.pool_at(1));
  REQUIRE(a.rim.size() == 1);
  CHECK_THAT(a.rim[0].sill, WithinAbs(0.4, 1e-14));
  const RoutedPool& b = held.pools.pool(held.pool_at(4));
  REQUIRE(!b.rim.empty());
  CHECK_THAT(b.rim[0].sill, WithinAbs(0.4, 1e-14));
}

TEST_CASE("a pool above its brim covers its banks and spills over all of the rim that is lower",
          "[route_pools]") {
  // A valley behind a dam whose crest follows the sides of the valley: the way over it widens with the head.
  const auto sides = [](double y) { return 0.02 * std::abs(y - 5.5); };
  Terrain terrain = rectangle(12, 11, 1, 0.05, [&](double x, double y) {
    return sides(y) + (x < 8 ? 0.01 * std::abs(x - 5.5) : x < 9 ? 0.2 : 0.3 - 0.05 * x);
  });
  open_side(terrain, 1);
  const RouteGraph graph(terrain);
  RoutedWater water(graph);
  RoutedPools pools(graph, water);
  const int d = water.pool_of[graph.slot[terrain.grid.index(5, 5)]];
  REQUIRE(d >= 0);
  RoutedPool& pool = pools.pool(d);
  const double head = 0.05, brim = pools.spill_level(d);
  pool.volume = 0;
  int covered = 0;
  for (int j = 0; j < 11; ++j)
    for (int i = 0; i < 8; ++i) {
      const double depth = brim + head - graph.bed[graph.slot[terrain.grid.index(i, j)]];
      pool.volume += std::max(depth, 0.0);
      covered += depth > 0;
    }
  pools.settle(d, water);
  CHECK_THAT(pool.level, WithinAbs(brim + head, 1e-12));
  CHECK(pool.members == covered);
  int over = 0;
  for (const RimFace& rim : pool.rim) over += rim.sill < pool.level;
  CHECK(over == 5); // crest cells less than 50 mm above the middle one
}

TEST_CASE("pools that cannot reach over the dry ground between them do not meet", "[route_pools]") {
  Held held(0.05);
  const int a = held.pool_at(1), b = held.pool_at(4);
  const auto dry = [&](int cell) { held.water.depth[held.graph.slot[cell]] = 0; };
  for (int cell : {0, 2, 3, 5}) dry(cell);
  RoutedPool &first = held.pools.pool(a), &second = held.pools.pool(b);
  first.volume = 0.01;
  second.volume = 0.01;
  first.level = second.level = 0.5; // as if they had risen past what cells lack
  held.pools.rearrange(held.water);
  CHECK(held.pools.active.size() == 2);
  CHECK(held.volume() == 0.02);
}

TEST_CASE("pools stay two while water leaves them over a rim hardly higher than what parts them",
          "[route_pools]") {
  // Parted at 0.40, the way out at 0.42.
  constexpr double bed[8] = {0.6, 0.0, 0.2, 0.4, 0.1, 0.3, 0.42, 0.0};
  Terrain terrain = rectangle(8, 1, 1, 0.05, [&](double x, double) { return bed[static_cast<int>(x)]; });
  open_side(terrain, 1);
  const RouteGraph graph(terrain);
  RoutedWater water(graph);
  RoutedPools pools(graph, water);
  const auto pool_at = [&](int cell) { return water.pool_of[graph.slot[cell]]; };
  const auto raise = [&](int depression, double level) {
    double volume = 0;
    const RoutedPool& pool = pools.pool(depression);
    for (int s : pool.cells) volume += std::max(level - graph.bed[s], 0.0);
    pools.pool(depression).volume = volume;
    pools.settle(depression, water);
    return volume;
  };
  const double above = graph.datum; // levels count from there
  raise(pool_at(1), 0.50 - above);
  raise(pool_at(4), 0.50 - above); // 0.10 over what parts them, 0.08 over the way out
  pools.rearrange(water);
  CHECK(pools.active.size() == 2);
  const double high = raise(pool_at(1), 0.44 - above) + raise(pool_at(4), 0.44 - above); // 0.04 and 0.02
  pools.rearrange(water);
  REQUIRE(pools.active.size() == 1);
  const int both = pools.active[0];
  CHECK_THAT(pools.pool(both).volume, WithinAbs(high, 1e-14));
  raise(both, 0.46 - above); // 0.06 and 0.04: as they are
  pools.rearrange(water);
  CHECK(pools.active.size() == 1);
  const double whole = raise(both, 0.56 - above); // 0.16 and 0.14
  const double level = pools.pool(both).level;
  pools.rearrange(water);
  REQUIRE(pools.active.size() == 2);
  double sum = 0;
  for (int d : pools.active) {
    sum += pools.pool(d).volume;
    CHECK_THAT(pools.pool(d).level, WithinAbs(level, 1e-12));
  }
  CHECK_THAT(sum, WithinAbs(whole, 1e-14));
}

TEST_CASE("pools stay two while more has to pass between them than what parts them lets through",
          "[route_pools]") {
  // Over the sill of one face of 1 m, n = 0.05, with a fall of a tenth of the depth there.
  const auto passes = [](double depth) { return std::pow(depth, 5.0 / 3) / 0.05 * std::sqrt(0.1 * depth); };
  const auto pools_at = [](Held& held, double level, double sink) {
    const double above = held.graph.datum;
    for (const int d : std::vector<int>(held.pools.active)) {
      RoutedPool& pool = held.pools.pool(d);
      pool.volume = 0;
      for (int s : pool.cells) pool.volume += std::max(level - above - held.graph.bed[s], 0.0);
      held.pools.settle(d, held.water);
    }
    // The eastern hollow, with the sill of three cells, loses water from two of them, the western, of three,
    // does not: half of it must pass.
    for (int cell : {4, 5}) held.water.sink[held.graph.slot[cell]] = sink;
    held.pools.rearrange(held.water);
    return held.pools.active.size();
  };
  const double over = 0.03;
  for (const double share : {0.95, 1.05}) {
    Held held(0);
    REQUIRE(held.pools.active.size() == 2);
    CHECK(pools_at(held, 0.4 + over, share * passes(over / 1.5)) == (share < 1 ? 1U : 2U));
  }
  Held held(0);
  REQUIRE(pools_at(held, 0.4 + over, 0) == 1);
  CHECK(pools_at(held, 0.4 + over, 1.05 * passes(over / 1.5)) == 1); // once they are one, for a while yet
  CHECK(pools_at(held, 0.4 + over, 0.95 * passes(over / 1.2)) == 1);
  CHECK(pools_at(held, 0.4 + over, 1.05 * passes(over / 1.2)) == 2);
}
