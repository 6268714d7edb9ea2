// Rows of mixing water against the balance of each cell, written out.
#include <lowspot/surface/mixing.hpp>

#include <algorithm>
#include <random>
#include <vector>

#include "catch.hpp"

using namespace lowspot::surface;

namespace {

// A row of cells between two others, with one cell more at either end.
struct Row {
  explicit Row(int n)
      : count(n), west(n + 1), south(n), north(n), depth(n), supply(n), keep(n), from_west(n), from_east(n),
        from_south(n), from_north(n), per_total(n), here(n + 2), below(n), above(n), mixed(n) {}
  MixingRow view() {
    return {west.data(),       south.data(),      north.data(),     depth.data(),
            supply.data(),     keep.data(),       from_west.data(), from_east.data(),
            from_south.data(), from_north.data(), per_total.data(), count};
  }
  int count;
  std::vector<double> west, south, north, depth, supply;
  std::vector<double> keep, from_west, from_east, from_south, from_north, per_total;
  std::vector<double> here, below, above, mixed;
};

double out_of(const Row& row, int i) {
  return std::max(-row.west[i], 0.0) + std::max(row.west[i + 1], 0.0) + std::max(-row.south[i], 0.0) +
         std::max(row.north[i], 0.0);
}

} // namespace

TEST_CASE("Weights of a mixture are volumes over all that mixes", "[surface]") {
  std::mt19937 random(3);
  std::uniform_real_distribution<double> unit(0, 1), sign(-1, 1);
  Row row(37);
  const double dt = 2, factor = 4;
  for (std::vector<double>* passed : {&row.west, &row.south, &row.north})
    for (double& each : *passed) each = 1e-3 * sign(random);
  for (std::vector<double>* shares : {&row.here, &row.below, &row.above})
    for (double& each : *shares) each = unit(random);
  for (int i = 0; i < row.count; ++i) {
    row.depth[i] = factor * out_of(row, i) * (0.8 + 0.5 * unit(random)); // some give more than they have
    row.supply[i] = 1e-4 * unit(random);
  }
  row.west[5] = row.west[6] = row.south[5] = row.north[5] = row.depth[5] = row.supply[5] = 0; // dry
  weigh_row(row.view(), dt, factor);
  mix_row(row.view(), row.here.data() + 1, row.below.data(), row.above.data(), row.mixed.data());
  for (int i = 0; i < row.count; ++i) {
    if (i == 5) {
      CHECK(row.keep[i] == 1);
      CHECK(row.mixed[i] == row.here[i + 1]);
      continue;
    }
    const double arrived = row.supply[i] * dt * row.per_total[i];
    CHECK_THAT(row.keep[i] + row.from_west[i] + row.from_east[i] + row.from_south[i] + row.from_north[i] +
                   arrived,
               WithinAbs(1.0, 1e-14));
    const double kept = std::max(row.depth[i] - factor * out_of(row, i), 0.0);
    const double west = factor * std::max(row.west[i], 0.0), east = factor * std::max(-row.west[i + 1], 0.0),
                 south = factor * std::max(row.south[i], 0.0), north = factor * std::max(-row.north[i], 0.0);
    const double volume = kept * row.here[i + 1] + west * row.here[i] + east * row.here[i + 2] +
                          south * row.below[i] + north * row.above[i];
    const double all = kept + west + east + south + north + row.supply[i] * dt;
    CHECK_THAT(row.mixed[i], WithinRel(volume / all, 1e-13));
  }
}

TEST_CASE("A row is flushed where a cell gives more than it has", "[surface]") {
  for (int at = 0; at < 37; ++at) {
    Row row(37);
    for (int i = 0; i < row.count; ++i) {
      row.north[i] = 1e-3;
      row.depth[i] = 4e-3 * (1 + 1e-15);
    }
    CHECK_FALSE(has_flushed(row.view(), 4));
    row.south[at] = -1e-18;
    CHECK(has_flushed(row.view(), 4) == false); // rounded away
    row.south[at] = -1e-15;
    CHECK(has_flushed(row.view(), 4));
  }
}
