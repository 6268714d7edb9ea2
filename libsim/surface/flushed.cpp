#include <lowspot/surface/flushed.hpp>

#include <cmath>
#include <numeric>

#include <boost/graph/compressed_sparse_row_graph.hpp>
#include <boost/graph/strong_components.hpp>

#include <lowspot/surface/mixing.hpp>
#include <lowspot/surface/workspace.hpp>

namespace lowspot::surface {
namespace {
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
  fed_by_.clear();
  for (std::size_t k = 0; k < cells.size(); ++k)
    for (int side = 0; side < 4; ++side) {
      const Exchange from = exchange_over(grid_, frame_, passed, cells[k].column, cells[k].row, side);
      const int giver = from.inflow > 0 && from.cell >= 0 ? place_[from.cell] : -1;
      if (giver >= 0) fed_by_.emplace_back(static_cast<int>(k), giver);
    }
  const boost::compressed_sparse_row_graph<> graph(boost::edges_are_sorted, fed_by_.begin(), fed_by_.end(),
                                                   cells.size());
  group_.resize(cells.size());
  // Numbered from those on that none feeds.
  const int groups = boost::strong_components(
      graph, boost::make_iterator_property_map(group_.begin(), get(boost::vertex_index, graph)));
  begins_.assign(groups + 1, 0);
  for (const int g : group_) ++begins_[g + 1];
  std::partial_sum(begins_.begin(), begins_.end(), begins_.begin());
  order_.resize(cells.size());
  std::vector<std::size_t> next(begins_.begin(), begins_.end() - 1);
  for (std::size_t k = 0; k < cells.size(); ++k) order_[next[group_[k]]++] = static_cast<int>(k);
}

} // namespace lowspot::surface
