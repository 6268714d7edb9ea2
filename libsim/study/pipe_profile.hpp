// How a pipe lies along a way over the ground: as high as cover and least fall allow.
#pragma once
#include <optional>
#include <vector>

#include <lowspot/base/field.hpp>
#include <lowspot/base/geometry.hpp>
#include <lowspot/base/grid.hpp>
#include <lowspot/site/site.hpp>

namespace lowspot::study {

// The ground on which ways are looked for.
struct ReachGround {
  Grid grid;       // where the cells lie
  Mask open;       // 1: a pipe may lie under the whole cell
  Field elevation; // m
  Field dearness;  // how much dearer digging is there, 1: lawn
};

// Whether the straight line from a to b lies in open cells, its ends included.
bool line_is_open(const ReachGround& ground, const Point& a, const Point& b);
// Bilinear between the centres of open cells; not a number where the cell under the point is not open [m].
double ground_at(const ReachGround& ground, const Point& at);

// One pipe along one way.
struct PipeProfile {
  std::vector<double> distance, ground, invert; // m along the way, elevations [m]
  double length = 0;                            // m
  double fall_available = 0;                    // start invert less the outlet's level [m]
  double margin = 0;      // how much higher the outlet could lie [m]; below 0: what is missing
  double deepest_cut = 0; // ground to invert [m]
  double shallow_end = 0; // length before the outlet with less than the cover [m]
  double excavation = 0;  // m3
  double cost = 0;        // excavation weighed by dearness [m3]
};

// The invert begins at `start_invert` and is as high as it can be: no higher than cover and pipe under the
// ground, except over the last run_out metres, where it runs straight to the outlet (or ends
// where the ground falls away below it and water runs on from there); and falling at least at the least fall.
// It must end no lower than `level`. Empty when the way leaves open ground.
//   margin = min over the way before the run-out of [ceiling(x) - least_fall (length - x)] - level,
// with ceiling(0) = start_invert and ceiling(x) = ground(x) - cover - pipe elsewhere; so that it is fall
// available less fall needed, and where no dip in the ground presses the pipe down the fall needed is length
// times least fall.
std::optional<PipeProfile> lay_pipe(const ReachGround& ground, const Polyline& way, double start_invert,
                                    double level, const site::ReachRules& rules);

} // namespace lowspot::study
