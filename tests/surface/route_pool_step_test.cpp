#include "catch.hpp"

#include <lowspot/surface/pool.hpp>
#include <lowspot/surface/route_pool_step.hpp>

#include "yards.hpp"

using namespace lowspot::surface;
using namespace yards;

namespace {

Terrain bowl(bool open) {
  Terrain terrain = rectangle(9, 7, 1, 0.05, [](double x, double y) {
    return 0.02 * ((x - 4.3) * (x - 4.3) + (y - 3.2) * (y - 3.2));
  });
  if (open) open_side(terrain, 0);
  return terrain;
}

struct Bowl {
  explicit Bowl(bool open)
      : terrain(bowl(open)), graph(terrain), water(graph), pools(graph, water),
        faces(graph, terrain.open_faces.size()) {}
  RoutedPool& pool() { return pools.pool(pools.active.front()); }
  void fill(double volume) {
    pool().volume = volume;
    pools.settle(pools.active.front(), water);
  }
  void step(double dt) {
    std::fill(water.done.begin(), water.done.end(), char{0});
    step_pool(pools.active.front(), dt, graph, pools, water, faces);
  }
  Terrain terrain;
  RouteGraph graph;
  RoutedWater water;
  RoutedPools pools;
  RoutedFaces faces;
};

} // namespace

TEST_CASE("a pool that falls past its cells is exact for constant rates", "[route_pool_step]") {
  Bowl held(false);
  held.fill(3.0);
  std::vector<PoolCell> cells;
  for (int k = 0; k < held.pool().members; ++k) {
    const int s = held.pool().cells[k];
    held.water.sink[s] = 1e-5 * (1 + s % 3);
    held.water.supply[s] = 2e-6;
    cells.push_back(
        {s, held.graph.bed[s], 0, held.pool().level - held.graph.bed[s], 2e-6, held.water.sink[s]});
  }
  const double dt = 9000;
  held.step(dt);
  const double level = advance_pool(cells, dt); // the pool on its own, by another road
  held.pools.settle_depths(held.pools.active.front(), held.water);
  CHECK_THAT(held.pool().level, WithinAbs(level, 1e-12));
  for (const PoolCell& cell : cells) {
    CHECK_THAT(held.water.depth[cell.cell], WithinAbs(cell.depth, 1e-12));
    CHECK_THAT(held.water.taken[cell.cell], WithinAbs(cell.taken, 1e-12));
  }
}

TEST_CASE("a pool that dries up gives no more than it had", "[route_pool_step]") {
  Bowl held(false);
  held.fill(0.5);
  std::fill(held.water.sink.begin(), held.water.sink.end(), 1e-4);
  held.pool().inflow = 0.25;
  held.step(20000);
  double taken = 0;
  for (double depth : held.water.taken) taken += depth;
  CHECK_THAT(taken, WithinAbs(0.75, 1e-12));
  CHECK(held.pool().volume == 0);
}

TEST_CASE("what spills balances what comes, at Manning's head over the rim", "[route_pool_step]") {
  Bowl held(true);
  REQUIRE(!held.pool().rim.empty());
  double out = 0;
  const double inflow = 0.03; // m a step over one cell
  for (int k = 0; k < 4000; ++k) {
    const double before = held.pool().volume;
    std::fill(held.faces.left.begin(), held.faces.left.end(), 0.0);
    held.pool().inflow = inflow;
    held.step(20);
    out = 0;
    for (double depth : held.faces.left) out += depth;
    CHECK_THAT(before + inflow - held.pool().volume, WithinAbs(out, 1e-12));
  }
  CHECK_THAT(out, WithinRel(inflow, 1e-6));
  double flow = 0; // h^(5/3) S^(1/2) / n over each rim face, cells of 1 m
  for (const RimFace& rim : held.pool().rim) {
    const double h = held.pool().level - rim.sill;
    if (h > 0) flow += std::pow(h, 5.0 / 3.0) * std::sqrt(rim.link.slope) / 0.05;
  }
  CHECK_THAT(flow * 20, WithinRel(inflow, 1e-6));
}

TEST_CASE("water that comes after a pool's turn does not change its next turn", "[route_pool_step]") {
  Bowl held(true);
  held.fill(1.0);
  CHECK(held.pool().turn_level < held.pool().level); // has had no turn yet
  held.step(20);
  const double level = held.pool().level;
  CHECK(held.pool().turn_level == level);
  held.fill(held.pool().volume + 0.5);
  CHECK(held.pool().level > level);
  CHECK(held.pool().turn_level == level);
}

TEST_CASE("a slot that is given water late twice waits once", "[route_pool_step]") {
  Bowl held(true);
  for (const int slot : {9, 4, 9, 4, 12}) held.faces.call_late(slot);
  REQUIRE(held.faces.late.size() == 3);
  CHECK(held.faces.late.front().second == 4);
}

TEST_CASE("what comes after a pool's turn goes on in a second one as if it had come in time",
          "[route_pool_step]") {
  Bowl once(true), twice(true);
  for (Bowl* held : {&once, &twice})
    for (int k = 0; k < 1000; ++k) { // to a steady spill
      held->pool().inflow = 0.03;
      held->step(20);
    }
  std::fill(twice.faces.left.begin(), twice.faces.left.end(), 0.0);
  const double before = twice.pool().volume, late = 0.5; // m over one cell
  once.pool().inflow = late;
  once.step(20);
  twice.step(20);
  const double first = twice.pool().level;
  // Half of it has come over the margin of the pool, half from another.
  twice.water.inflow[twice.pool().cells[twice.pool().members - 1]] = 0.5 * late;
  twice.pool().inflow = 0.5 * late;
  spill_again(twice.pools.active.front(), 20, twice.graph, twice.pools, twice.water, twice.faces);
  CHECK(twice.pool().level > first);
  const double head = once.pool().level - once.pool().rim.front().sill;
  CHECK_THAT(twice.pool().level, WithinAbs(once.pool().level, 5e-3 * head));
  double out = 0, waiting = twice.pool().inflow;
  for (double depth : twice.faces.left) out += depth;
  for (double depth : twice.water.inflow) waiting += depth;
  CHECK(waiting == 0);
  CHECK_THAT(before + late - twice.pool().volume, WithinAbs(out, 1e-12));
  CHECK_THAT(twice.pool().outflow, WithinAbs(out, 1e-12));
}

TEST_CASE("a dry bottom drinks first", "[route_pool_step]") {
  Terrain terrain = rectangle(2, 1, 1, 0.05, [](double, double) { return 0.0; });
  terrain.depression_storage = {0.004, 0.004};
  const RouteGraph graph(terrain);
  RoutedWater water(graph);
  RoutedPools pools(graph, water);
  RoutedFaces faces(graph, 0);
  const int d = pools.active.front();
  pools.pool(d).inflow = 0.006; // the two hold 8 mm
  step_pool(d, 10, graph, pools, water, faces);
  CHECK(pools.pool(d).volume == 0);
  CHECK_THAT(water.depth[0] + water.depth[1], WithinAbs(0.006, 1e-15));
  pools.pool(d).inflow = 0.006;
  step_pool(d, 10, graph, pools, water, faces);
  CHECK_THAT(pools.pool(d).volume, WithinAbs(0.004, 1e-15));
  CHECK(water.depth[0] == 0.004);
}

TEST_CASE("a drowned pit passes on what comes however suddenly its rim comes to spill", "[route_pool_step]") {
  // Beyond its rim water stands 25 mm high: below that level nothing leaves, a little above it much.
  constexpr double bed[4] = {0.001, 0.0011, 0.0, -0.02};
  Terrain terrain =
      rectangle(4, 1, 0.1, 0.2, [&](double x, double) { return bed[static_cast<int>(x / 0.1)]; });
  open_side(terrain, 1);
  const RouteGraph graph(terrain);
  for (const double inflow : {0.01, 0.1, 0.235, 2.0}) {
    RoutedWater water(graph);
    RoutedPools pools(graph, water);
    RoutedFaces faces(graph, 1);
    const int d = water.pool_of[graph.slot[0]], beyond = graph.slot[1];
    REQUIRE(d >= 0);
    water.level[beyond] = graph.bed[beyond] + 0.025;
    RoutedPool& pool = pools.pool(d);
    pool.volume = 0.021;
    pools.settle(d, water);
    pool.spilled_to = pool.level - 1e-4; // as it was when less stood beyond
    const double before = pool.volume;
    pool.inflow = inflow;
    step_pool(d, 80, graph, pools, water, faces);
    CHECK_THAT(before + inflow - pool.volume, WithinAbs(pool.outflow, 1e-15));
    std::vector<RimBlock> rim = pool.rim_blocks;
    double low = graph.bed[graph.slot[0]],
           high = low + before + inflow; // one cell: its level holds its volume
    const double bottom = low;
    for (int k = 0; k < 60; ++k) {
      const double middle = 0.5 * (low + high);
      (middle - bottom + 80 * spill_over(graph, rim, middle).flow > before + inflow ? high : low) = middle;
    }
    CHECK_THAT(pool.level, WithinAbs(low, 2e-3 * (low - bottom)));
  }
}
