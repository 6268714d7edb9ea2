// Grounds on which the best way of a pipe is known.
#pragma once
#include <functional>

#include <lowspot/study/reach.hpp>

namespace reach_grounds {
using namespace lowspot;
using namespace lowspot::study;

// Cells of 0.5 m, all open, lawn.
inline ReachGround ground(int nx, int ny, const std::function<double(double, double)>& elevation) {
  ReachGround result;
  result.grid = {nx, ny, 0.5, 0, 0};
  result.open.assign(result.grid.cells(), 1);
  result.dearness.assign(result.grid.cells(), 1.0);
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i) result.elevation.push_back(elevation(result.grid.x(i), result.grid.y(j)));
  return result;
}

inline site::ReachRules rules() {
  site::ReachRules rules;
  rules.cover = 0.15;
  rules.pipe = 0.10;
  rules.least_fall = 0.01;
  rules.deepest_cut = 1.5;
  rules.run_out = 2;
  rules.trench_width = 0.3;
  return rules;
}

// The middles of the cells of a row, each with the level of its ground.
inline std::vector<ReachEnd> row(const ReachGround& ground, int j) {
  std::vector<ReachEnd> ends;
  for (int i = 0; i < ground.grid.nx; ++i)
    if (ground.open[ground.grid.index(i, j)])
      ends.push_back({{ground.grid.x(i), ground.grid.y(j)}, ground.elevation[ground.grid.index(i, j)]});
  return ends;
}

inline void build_over(ReachGround& ground, double x0, double y0, double x1, double y1) {
  for (std::size_t c = 0; c < ground.grid.cells(); ++c) {
    const double x = ground.grid.x(ground.grid.column(c)), y = ground.grid.y(ground.grid.row(c));
    if (x > x0 && x < x1 && y > y0 && y < y1) ground.open[c] = 0;
  }
}

} // namespace reach_grounds
