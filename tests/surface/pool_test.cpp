#include <lowspot/surface/pool.hpp>

#include <cmath>
#include <numeric>

#include "catch.hpp"

using namespace lowspot::surface;

namespace {

PoolCell cell(int name, double bed, double mobile, double sink, double supply = 0, double storage = 0) {
  return {name, bed, storage, storage + mobile, supply, sink, 0.0};
}

double total(const std::vector<PoolCell>& cells) {
  return std::accumulate(cells.begin(), cells.end(), 0.0,
                         [](double sum, const PoolCell& c) { return sum + c.depth; });
}
double taken(const std::vector<PoolCell>& cells) {
  return std::accumulate(cells.begin(), cells.end(), 0.0,
                         [](double sum, const PoolCell& c) { return sum + c.taken; });
}

} // namespace

TEST_CASE("Level that holds a volume", "[surface]") {
  const std::vector<PoolCell> steps = {cell(0, 0.0, 0, 0), cell(1, 0.1, 0, 0), cell(2, 0.3, 0, 0)};
  CHECK_THAT(level_holding(steps, 0.05), WithinRel(0.05, 1e-12));
  CHECK_THAT(level_holding(steps, 0.2), WithinRel(0.15, 1e-12));
  CHECK_THAT(level_holding(steps, 0.8), WithinRel(0.4, 1e-12));
}

TEST_CASE("A pool falls by the mean of its sinks, and cells dry one after the other", "[surface]") {
  // Beds 0 and 0.1, level 0.2; only the lower soaks. 0.1 a cell goes in 2 * 0.1 / rate, then the lower alone.
  std::vector<PoolCell> pool = {cell(0, 0.0, 0.2, 1e-4), cell(1, 0.1, 0.1, 0)};
  CHECK_THAT(advance_pool(pool, 1000), WithinRel(0.15, 1e-12));
  CHECK_THAT(pool[0].taken, WithinRel(0.1, 1e-12));
  CHECK(pool[1].taken == 0);
  CHECK_THAT(advance_pool(pool, 1500), WithinRel(0.05, 1e-9)); // 1000 s to 0.1, then 500 s at the full rate
  CHECK(pool[1].depth < 1e-15);
  CHECK_THAT(pool[0].taken, WithinRel(0.15, 1e-12));
  advance_pool(pool, 1000); // gone after 500 s
  CHECK(total(pool) < 1e-15);
  CHECK_THAT(taken(pool), WithinRel(0.05, 1e-9));
}

TEST_CASE("Sinks go on with what their depressions hold", "[surface]") {
  std::vector<PoolCell> pool = {cell(0, 0.0, 0.02, 1e-5, 0, 0.005), cell(1, 0.01, 0.01, 3e-5, 0, 0.002)};
  const double before = total(pool);
  // 0.01 a cell goes at 2e-5 m/s in 500 s; then the upper has 0.002 for 3e-5 m/s, gone in 67 s.
  advance_pool(pool, 1000);
  CHECK_THAT(pool[1].taken, WithinRel(3e-5 * 500 + 0.002, 1e-12));
  CHECK(pool[1].depth < 1e-15);
  CHECK_THAT(pool[0].taken, WithinRel(1e-5 * 1000, 1e-12));
  CHECK_THAT(total(pool) + taken(pool), WithinRel(before, 1e-14));
}

TEST_CASE("A pool rises and takes in its banks", "[surface]") {
  std::vector<PoolCell> pool = {cell(0, 0.0, 0.05, 0, 2e-4), cell(1, 0.02, 0.03, 0, 0)};
  double level = advance_pool(pool, 1000);
  CHECK_THAT(level, WithinRel(0.15, 1e-12));
  // A bank at 0.1 whose depressions lack 0.003 of 0.005.
  PoolCell bank = cell(2, 0.1, -0.003, 0, 0, 0.005);
  CHECK(extend_pool(pool, bank, level));
  CHECK_THAT(level, WithinRel((0.15 + 0.13 + 0.12 - 0.003) / 3, 1e-12));
  CHECK_THAT(total(pool), WithinRel(0.15 + 0.13 + 0.002, 1e-12));
  // A bank so high that the pool cannot cover it is left alone.
  const double before = level;
  CHECK_FALSE(extend_pool(pool, cell(3, 0.2, 0, 0), level));
  CHECK(level == before);
  CHECK(pool.size() == 3);
}
