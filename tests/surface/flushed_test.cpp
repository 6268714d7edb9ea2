// Flushed cells, and the order in which they pass their water on.
#include <lowspot/surface/flushed.hpp>

#include <algorithm>
#include <random>

#include "catch.hpp"

#include <lowspot/base/field.hpp>
#include <lowspot/surface/workspace.hpp>

using namespace lowspot;
using namespace lowspot::surface;

namespace {

PassedWater none_passed(const Frame& frame) {
  PassedWater passed;
  passed.clear(frame.size);
  passed.time = 10;
  return passed;
}

// Discharges between the cells of a grid, each from the higher potential to the lower.
PassedWater downhill(const Grid& grid, const Field& potential) {
  const Frame frame(grid);
  PassedWater passed = none_passed(frame);
  for (int j = 0; j < grid.ny; ++j)
    for (int i = 0; i < grid.nx; ++i) {
      const double here = potential[grid.index(i, j)];
      if (i > 0) passed.x[frame.at(i, j)] = potential[grid.index(i - 1, j)] - here;
      if (j > 0) passed.y[frame.at(i, j)] = potential[grid.index(i, j - 1)] - here;
    }
  return passed;
}

std::vector<Flushed> all_cells(const Grid& grid) {
  std::vector<Flushed> cells;
  for (std::size_t c = 0; c < grid.cells(); ++c)
    cells.push_back({static_cast<int>(c), grid.column(c), grid.row(c), 1, 0});
  return cells;
}

// The place of each cell in the order, by its number in the list.
std::vector<std::size_t> ranks(const FlushedOrder& order, std::size_t cells) {
  std::vector<std::size_t> rank(cells, cells);
  for (std::size_t g = 0; g < order.groups(); ++g)
    for (const int k : order.group(g)) rank[k] = g;
  return rank;
}

} // namespace

TEST_CASE("Cells that give more than they have are found, and no others", "[surface]") {
  const Grid grid{50, 9, 0.5, 0, 0};
  const Frame frame(grid);
  std::mt19937 random(5);
  std::uniform_real_distribution<double> unit(0, 1);
  Field potential(grid.cells()), depth(grid.cells()), supply(grid.cells(), 1e-6);
  for (double& each : potential) each = unit(random);
  const PassedWater passed = downhill(grid, potential);
  std::vector<int> expected;
  for (int j = 0; j < grid.ny; ++j)
    for (int i = 0; i < grid.nx; ++i) {
      const std::size_t c = grid.index(i, j);
      double out = 0;
      for (int side = 0; side < 4; ++side)
        out += std::max(-exchange_over(grid, frame, passed, i, j, side).inflow, 0.0) / grid.cell;
      const double part = unit(random);
      depth[c] = out * (part < 0.3 ? 0.9 : part < 0.6 ? 1 - 1e-15 : 1.1);
      if (part < 0.3 && out > 0) expected.push_back(static_cast<int>(c));
    }
  std::vector<Flushed> found;
  for (int j = 0; j < grid.ny; ++j) {
    find_flushed(grid, frame, passed, depth, supply, {0, 20}, j, found);
    find_flushed(grid, frame, passed, depth, supply, {20, 50}, j, found);
  }
  REQUIRE(found.size() == expected.size());
  for (std::size_t k = 0; k < found.size(); ++k) {
    CHECK(found[k].cell == expected[k]);
    CHECK(grid.index(found[k].column, found[k].row) == static_cast<std::size_t>(expected[k]));
    CHECK(found[k].holds == depth[expected[k]]);
    CHECK_THAT(found[k].gave, WithinRel(depth[expected[k]] / 0.9, 1e-12));
  }
}

TEST_CASE("Nothing passes over the limit of the grid, and each side sees the other", "[surface]") {
  const Grid grid{6, 5, 0.5, 0, 0};
  const Frame frame(grid);
  Field potential(grid.cells());
  for (std::size_t c = 0; c < potential.size(); ++c) potential[c] = static_cast<double>(c * c % 17);
  const PassedWater passed = downhill(grid, potential);
  const int back[] = {1, 0, 3, 2};
  for (int j = 0; j < grid.ny; ++j)
    for (int i = 0; i < grid.nx; ++i)
      for (int side = 0; side < 4; ++side) {
        const Exchange here = exchange_over(grid, frame, passed, i, j, side);
        const int ni = i + (side == 1) - (side == 0), nj = j + (side == 3) - (side == 2);
        if (!grid.inside(ni, nj)) {
          CHECK(here.cell == -1);
          continue;
        }
        CHECK(here.cell == static_cast<int>(grid.index(ni, nj)));
        const Exchange there = exchange_over(grid, frame, passed, ni, nj, back[side]);
        CHECK(there.cell == static_cast<int>(grid.index(i, j)));
        CHECK(there.inflow == -here.inflow);
        CHECK(here.inflow == potential[here.cell] - potential[there.cell]);
      }
}

TEST_CASE("Downhill every cell comes after those that feed it", "[surface]") {
  const Grid grid{40, 30, 0.5, 0, 0};
  const Frame frame(grid);
  FlushedOrder order(grid);
  for (unsigned seed = 1; seed <= 5; ++seed) {
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> unit(0, 1);
    Field potential(grid.cells());
    for (double& each : potential) each = unit(random);
    const PassedWater passed = downhill(grid, potential);
    std::vector<Flushed> cells = all_cells(grid);
    std::shuffle(cells.begin(), cells.end(), random);
    cells.resize(cells.size() * 2 / 3);
    order.find(passed, cells);
    REQUIRE(order.groups() == cells.size());
    const std::vector<std::size_t> rank = ranks(order, cells.size());
    std::size_t wrong = 0, listed = 0;
    for (std::size_t c = 0; c < grid.cells(); ++c) listed += order.place(static_cast<int>(c)) >= 0;
    for (std::size_t k = 0; k < cells.size(); ++k)
      for (int side = 0; side < 4; ++side) {
        const Exchange from = exchange_over(grid, frame, passed, cells[k].column, cells[k].row, side);
        const int giver = from.cell >= 0 && from.inflow > 0 ? order.place(from.cell) : -1;
        if (giver >= 0 && rank[giver] >= rank[k]) ++wrong;
      }
    CHECK(wrong == 0);
    CHECK(listed == cells.size());
  }
}

TEST_CASE("Cells round a circle are one group, between what feeds it and what it feeds", "[surface]") {
  const Grid grid{4, 2, 0.5, 0, 0};
  const Frame frame(grid);
  PassedWater passed = none_passed(frame);
  passed.x[frame.at(1, 0)] = 1;  // 0 feeds the circle 1, 2, 6, 5
  passed.x[frame.at(2, 0)] = 3;  // 1 to 2
  passed.y[frame.at(2, 1)] = 3;  // 2 to 6
  passed.x[frame.at(2, 1)] = -2; // 6 to 5
  passed.y[frame.at(1, 1)] = -2; // 5 to 1
  passed.x[frame.at(3, 1)] = 1;  // 6 to 7
  passed.y[frame.at(3, 1)] = -1; // 7 to 3
  FlushedOrder order(grid);
  std::vector<Flushed> cells = all_cells(grid);
  std::reverse(cells.begin(), cells.end());
  order.find(passed, cells);
  REQUIRE(order.groups() == 5); // 4 stands alone
  const std::vector<std::size_t> rank = ranks(order, cells.size());
  const auto at = [&](int cell) { return rank[order.place(cell)]; };
  CHECK(at(1) == at(2));
  CHECK(at(1) == at(6));
  CHECK(at(1) == at(5));
  CHECK(at(0) < at(1));
  CHECK(at(1) < at(7));
  CHECK(at(7) < at(3));
  CHECK(order.group(at(1)).size() == 4);
}
