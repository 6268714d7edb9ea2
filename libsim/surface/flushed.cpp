#include <lowspot/surface/flushed.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include <lowspot/surface/mixing.hpp>
#include <lowspot/surface/workspace.hpp>

namespace lowspot::surface {
namespace {
constexpr int complete = std::numeric_limits<int>::max(); // reached later than any cell of an open group
// More than this times its water has to have gone: what is less is rounding.
constexpr double flushed_from = 1 + 1e-12;
} // namespace

Exchange exchange_over(const Grid& grid, const Frame& frame, const PassedWater& passed, int column, int row,
                       int side) {
  const int cell = static_cast<int>(grid.index(column, row));
  const std::size_t at = frame.at(column, row);
  switch (side) {
  case 0:
    return {column > 0 ? cell - 1 : -1, passed.x[at]};
  case 1:
    return {column + 1 < grid.nx ? cell + 1 : -1, -passed.x[at + 1]};
  case 2:
    return {row > 0 ? cell - grid.nx : -1, passed.y[at]};
  default:
    return {row + 1 < grid.ny ? cell + grid.nx : -1, -passed.y[at + frame.pitch]};
  }
}

void find_flushed(const Grid& grid, const Frame& frame, const PassedWater& passed,
                  std::span<const double> depth, std::span<const double> supply, const Span& span, int row,
                  std::vector<Flushed>& found) {
  const std::size_t first = grid.index(span.begin, row), face = frame.at(span.begin, row);
  MixingRow stretch;
  stretch.west = &passed.x[face];
  stretch.south = &passed.y[face];
  stretch.north = &passed.y[face + frame.pitch];
  stretch.depth = &depth[first];
  stretch.count = span.end - span.begin;
  if (!has_flushed(stretch, 1 / grid.cell)) return;
  for (int i = span.begin; i < span.end; ++i) {
    const int cell = static_cast<int>(grid.index(i, row));
    double in = 0, out = 0; // m2
    for (int side = 0; side < 4; ++side) {
      const double inflow = exchange_over(grid, frame, passed, i, row, side).inflow;
      (inflow > 0 ? in : out) += std::abs(inflow);
    }
    const bool gave_more = out > flushed_from * depth[cell] * grid.cell;
    if (gave_more && in / grid.cell + supply[cell] * passed.time > no_water)
      found.push_back({cell, i, row, out / grid.cell, depth[cell]});
  }
}

FlushedOrder::FlushedOrder(const Grid& grid)
    : grid_(grid), frame_(grid), place_(grid.cells(), -1), begins_{0} {}

void FlushedOrder::find(const PassedWater& passed, std::span<const Flushed> cells) {
  for (const int cell : cells_) place_[cell] = -1;
  cells_.clear();
  for (std::size_t k = 0; k < cells.size(); ++k) {
    cells_.push_back(cells[k].cell);
    place_[cells[k].cell] = static_cast<int>(k);
  }
  order_.clear();
  begins_.assign(1, 0);
  for (std::vector<int>* each : {&reached_, &low_, &side_}) each->assign(cells.size(), 0);
  count_ = 0;
  for (std::size_t k = 0; k < cells.size(); ++k)
    if (reached_[k] == 0) visit(passed, cells, static_cast<int>(k));
}

// Looks upstream from a cell, depth first: a group is complete once all that feeds it has been seen.
void FlushedOrder::visit(const PassedWater& passed, std::span<const Flushed> cells, int start) {
  const auto reach = [&](int k) {
    reached_[k] = low_[k] = ++count_;
    way_.push_back(k);
    open_.push_back(k);
  };
  reach(start);
  while (!way_.empty()) {
    const int k = way_.back();
    if (side_[k] < 4) {
      const Exchange from = exchange_over(grid_, frame_, passed, cells[k].column, cells[k].row, side_[k]++);
      const int giver = from.inflow > 0 && from.cell >= 0 ? place_[from.cell] : -1;
      if (giver < 0) continue;
      if (reached_[giver] == 0)
        reach(giver);
      else if (reached_[giver] != complete)
        low_[k] = std::min(low_[k], reached_[giver]);
      continue;
    }
    way_.pop_back();
    if (!way_.empty()) low_[way_.back()] = std::min(low_[way_.back()], low_[k]);
    if (low_[k] != reached_[k]) continue;
    for (int member = -1; member != k;) {
      member = open_.back();
      open_.pop_back();
      reached_[member] = complete;
      order_.push_back(member);
    }
    begins_.push_back(order_.size());
  }
}

} // namespace lowspot::surface
