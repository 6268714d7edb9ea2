// Cells that passed on more water in a stretch of time than they held at its start: they are flushed. What
// they passed on holds some of what came in meanwhile, so that upstream has to be known before downstream.
#pragma once
#include <span>
#include <utility>
#include <vector>

#include <lowspot/base/grid.hpp>
#include <lowspot/surface/frame.hpp>
#include <lowspot/surface/tiles.hpp>

namespace lowspot::surface {

struct PassedWater;

// A flushed cell.
struct Flushed {
  int cell = 0;     // index in the grid
  int column = 0;   // of the grid
  int row = 0;      // of the grid
  double gave = 0;  // m of its depth that it passed on
  double holds = 0; // m of depth at the start
};

// A neighbour of a cell and what came from there.
struct Exchange {
  int cell = -1;     // index in the grid, -1: beyond it
  double inflow = 0; // m2 into the cell that was asked for, negative: out of it
};

// What passed over a side of a cell: 0 west, 1 east, 2 south, 3 north.
Exchange exchange_over(const Grid& grid, const Frame& frame, const PassedWater& passed, int column, int row,
                       int side);

// Adds the flushed cells in a stretch of a row to a list. depth at the start [m] and supply [m/s] are those
// of the grid. A cell that gave no more than it had but for rounding is none.
void find_flushed(const Grid& grid, const Frame& frame, const PassedWater& passed,
                  std::span<const double> depth, std::span<const double> supply, const Span& span, int row,
                  std::vector<Flushed>& found);

// Puts flushed cells into an order in which each comes after those that feed it. Cells that feed each other
// round a circle make one group (strongly connected components).
class FlushedOrder {
public:
  // For cells of this grid.
  explicit FlushedOrder(const Grid& grid);
  // Orders these cells, each named once, by what passed.
  void find(const PassedWater& passed, std::span<const Flushed> cells);

  // How many groups there are; they stand upstream before downstream.
  std::size_t groups() const { return begins_.size() - 1; }
  // The places of the cells of a group in the list that was given to find().
  std::span<const int> group(std::size_t index) const {
    return {order_.data() + begins_[index], begins_[index + 1] - begins_[index]};
  }
  // The place of a cell in that list, -1: it is not there.
  int place(int cell) const { return place_[cell]; }

private:
  Grid grid_;
  Frame frame_;
  std::vector<int> place_;                  // of each cell of the grid
  std::vector<int> cells_;                  // of the last find()
  std::vector<std::pair<int, int>> fed_by_; // places of a cell and of one that feeds it
  std::vector<int> group_;                  // of each of cells_
  std::vector<int> order_;                  // group after group
  std::vector<std::size_t> begins_;         // of each group, one more at the end
};

} // namespace lowspot::surface
