// What it takes to make a group of steps again.
#pragma once
#include <vector>

#include <lowspot/surface/step.hpp>

namespace lowspot::surface {

// Water as it was before a group of steps, where these can change anything. The discharges before them are
// those in Workspace::q_x_third, q_y_third after them.
class Undo {
public:
  // Before the steps; then for every row before its water changes.
  void begin(const Grid& grid, const Workspace& work, const Water& water);
  void keep_row(const Grid& grid, const Tiles& tiles, const Workspace& work, const Water& water, int row);
  // With the tiles of the steps.
  void restore(const Grid& grid, const Tiles& tiles, Workspace& work, const Water& water) const;

private:
  Aligned<double> depth_, taken_;
  Aligned<float> change_;
  std::vector<double> left_, crossed_;
  Celerities celerities_;
  double deepest_ = 0, step_ = 0;
};

} // namespace lowspot::surface
