// Labels on the cells of a ground: how a pipe can get there.
#pragma once
#include <vector>

#include <lowspot/study/pipe_profile.hpp>

namespace lowspot::study {

// One way to bring the invert to a cell.
struct ReachLabel {
  int cell = 0;      // index in the grid
  double invert = 0; // m
  double cost = 0;   // excavation weighed by dearness [m3]
  int before = -1;   // label of the cell before
  int next = -1;     // another label of the same cell
};
// All labels of a ground.
struct ReachLabels {
  std::vector<ReachLabel> labels; // linked by `before` and `next`
  std::vector<int> first;         // of each cell, -1 where the pipe cannot get to

  Polyline way_to(int label, const Grid& grid) const; // middles of cells, from the start
};

// All labels worth having (see find_ways()): none cuts deeper than `deepest_cut` [m] or lies below `lowest`
// [m].
ReachLabels cheapest_labels(const ReachGround& ground, const site::ReachRules& rules, int start,
                            double start_invert, double deepest_cut, double lowest);
// One label a cell, with the highest invert a pipe can have there, however deep it must be dug.
ReachLabels highest_labels(const ReachGround& ground, const site::ReachRules& rules, int start,
                           double start_invert);

} // namespace lowspot::study
