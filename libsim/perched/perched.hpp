// Perched water over a sloping tight layer: nonlinear Boussinesq flow with leakage (Boussinesq 1904).
#pragma once
#include <limits>
#include <span>
#include <vector>

#include <lowspot/base/field.hpp>
#include <lowspot/base/grid.hpp>

namespace lowspot::perched {

// A limit face through which perched water leaves down the slope of the tight layer. side as in
// surface::OpenFace; each face once.
struct OutflowFace {
  int cell = 0;                                            // index in the grid
  int side = 0;                                            // 0 west, 1 east, 2 south, 3 north
  double slope = std::numeric_limits<double>::quiet_NaN(); // fall of the tight layer through it [m/m]; not a
                                                           // number: as from the inner neighbour
};

// A limit face beyond which a hillside holds a steady saturated thickness: water enters as fast as the soil
// passes it from the face to the middle of the cell, K H_face (drop + saturated - H) over half a cell, and
// never turns back.
struct InflowFace {
  int cell = 0;         // index in the grid
  int side = 0;         // as in OutflowFace
  double saturated = 0; // m, at the face
};

// A face between two cells through which nothing flows: a trench down to the tight layer, say. Neighbours, in
// either order; a face may be given twice.
struct ClosedFace {
  int cell = 0;      // index in the grid
  int neighbour = 0; // of the cell beyond
};

// The ground of the perched zone, one entry a cell.
struct Layer {
  Grid grid;                  // where the cells lie
  Mask active;                // cells that hold perched water; faces to inactive cells are closed
  Field tight_elevation;      // top of the tight layer z_t [m]
  Field thickness;            // of the soil above it, D [m]: the most that H can be
  Field conductivity;         // m/s, lateral
  Field leakage_conductivity; // of the tight layer [m/s]
  Field leakage_thickness;    // b [m]; infinite: unit gradient. Free draining below: leakage = K (H + b) / b
  std::vector<OutflowFace> outflow_faces; // where water leaves
  std::vector<InflowFace> inflow_faces;   // where a hillside gives water
  std::vector<ClosedFace> closed_faces;   // where nothing passes
};

// A trench or a fixed level that trades water with the perched zone of one cell through a wall.
// With l the level of the other side above the tight layer (not below it) and D the thickness of the soil,
// rate [m3/s] = conductance * (H + l) / (2 D) * (H - l): the head difference times the mean wetted height,
// exact for a wall of even resistance with a seepage face (Dupuit 1863). For l > D the wall is wetted to D
// only.
struct Exchange {
  int cell = 0;           // index in the grid
  double conductance = 0; // m2/s at full wetted height
  double level = 0;       // elevation of the water on the other side [m]
  double available = 0;   // most the other side can give during the step [m3]
};

// What one step moved.
struct StepResult {
  Field net_water;                  // m per cell gained (positive) or lost over the step by all of the below
  Field leakage;                    // m per cell lost through the tight layer
  std::vector<double> exchanged;    // m3 given to each exchange partner (negative: taken from it)
  std::vector<double> left_through; // m3 through each outflow face
  std::vector<double> entered;      // m3 through each inflow face
  int iterations = 0;               // linear iterations, for benchmarks
  int newton_iterations = 0;        // linear systems solved
  double imbalance = 0;             // m: most that a cell free to move is off its balance
};

// How well a step is solved.
struct Options {
  int newton_iterations = 1000; // at most: a front that wets dry, leaking cells takes about one for each
  double tolerance = 1e-9;      // m of head: the last move of the table
  double imbalance = 1e-6;      // m of water: a step in which a cell is left with more is not solved
};

// One implicit (backward Euler) step of dt seconds, stable for any dt (see README.md for how long is
// sensible). saturated: H [m] (not changed). rising, falling: porosity filled when the table rises and freed
// when it falls. recharge [m]: water arriving from above over the step; negative where plants draw from the
// table, then not more than falling * H. head_above: ponded depth that adds to the leakage head where the
// column is full [m]. net_water includes recharge; its sum times the cell's area is recharge + entered -
// leakage - exchanged - left_through to round-off. It never takes more than falling * H from a cell; a table
// that would pass the ground shows as net_water beyond the free space. Throws std::invalid_argument when
// arrays do not fit the grid, a value is not a number or recharge asks for more than a cell holds, and
// NumericsError when the table is not found as well as Options::imbalance asks: with that endless, water is
// conserved and bounds are kept however few iterations are made. A caller with many steps keeps a Solver
// (solver.hpp), which sets the layer up once.
StepResult step(const Layer& layer, std::span<const double> saturated, std::span<const double> rising,
                std::span<const double> falling, std::span<const double> recharge,
                std::span<const double> head_above, std::span<const Exchange> exchanges, double dt,
                const Options& options = {});

} // namespace lowspot::perched
