// What it takes to make a group of steps again.
#pragma once
#include <vector>

#include <lowspot/surface/step.hpp>

namespace lowspot::surface {

// Water and discharges as they were before a group of steps, where these can change anything.
class Undo {
public:
  void keep(const Grid& grid, const Tiles& tiles, const Workspace& work, const Water& water);
  // With the tiles that were given to keep().
  void restore(const Grid& grid, const Tiles& tiles, Workspace& work, const Water& water) const;

private:
  std::vector<double> depth_, taken_, left_, crossed_;
  std::vector<float> q_x_, q_y_;
  double deepest_ = 0, celerity_squared_ = 0;
};

} // namespace lowspot::surface
