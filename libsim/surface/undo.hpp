// What it takes to make a group of steps again.
#pragma once
#include <vector>

#include <lowspot/surface/kernel.hpp>
#include <lowspot/surface/step.hpp>

namespace lowspot::surface {

// Water as it was before a group of steps, where these can change anything. The discharges before them are
// those in Workspace::q_x_third, q_y_third after them.
class Undo {
public:
  // Before the steps.
  void begin(const Grid& grid, const Workspace& work, const Water& water);
  // Then once for every row of cells, from this one on: its next volume balance keeps what it reads.
  void keep(CellRow& row, std::size_t cell);
  // With the tiles of the steps.
  void restore(const Grid& grid, const Tiles& tiles, Workspace& work, const Water& water) const;

private:
  Aligned<double> depth_, taken_;
  Aligned<float> change_;
  std::vector<double> left_, crossed_;
  Celerities celerities_;
  double deepest_ = 0, step_ = 0, rushing_ = 0;
};

} // namespace lowspot::surface
