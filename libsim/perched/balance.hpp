// The water balance of one implicit step on the framed grid: what every cell keeps, passes on, leaks and
// trades.
#pragma once
#include <span>
#include <vector>

#include <lowspot/perched/perched.hpp>
#include <lowspot/perched/stencil.hpp>

namespace lowspot::perched {

// An Exchange in the terms of one step: it receives strength * (H^2 / 2 - potential) metres of the cell's
// area.
struct Trade {
  std::ptrdiff_t at = -1; // -1: the cell is inactive or has no depth
  double strength = 0;    // 1/m
  double potential = 0;   // m2, see wall_potential()
  double available = 0;   // m of the cell's area
};

// An InflowFace in the terms of a step.
struct Upslope {
  std::ptrdiff_t at = -1;  // -1: the cell is inactive
  double conductivity = 0; // of half a cell, twice that of the soil [m/s]
  double drop = 0;         // of the tight layer over half a cell [m]
  double saturated = 0;    // m
};

// Everything that does not change while the step is solved. All water in m of depth over the step.
struct Balance {
  Frame frame;                                 // where cells and faces lie
  double cell_area = 0;                        // m2
  Mask active;                                 // 1: takes part; rim and inactive cells 0
  Field thickness;                             // D [m], 0 where inactive
  Field drop_east, drop_north;                 // fall of the tight layer to the neighbour [m]
  Field conductivity_east, conductivity_north; // of faces: harmonic mean [m/s], 0 where closed
  std::vector<std::ptrdiff_t> outflow_at;      // framed cells of Layer::outflow_faces
  Field outflow_conductance;                   // K * slope / cell size [1/s], one an outflow face
  std::vector<Upslope> upslopes;               // one an inflow face

  double dt = 0;                         // s
  double spreading = 0;                  // dt / cell area [s/m2]
  Field start;                           // thickness of the table at the start [m]
  Field rising, falling;                 // pores to be filled and to be emptied [m3/m3]
  Field supply;                          // water that comes from above [m]
  Field leakage_constant, leakage_slope; // at no thickness [m], more per metre of it [m/m]
  std::vector<Trade> trades;             // one an Exchange
};

// The part that a layer fixes once. Throws std::invalid_argument when arrays do not fit the grid, or a
// figure of an active cell is none that a soil has, or a face is given twice.
Balance make_balance(const Layer& layer);

// Volumes of one step that belong to given thicknesses H [m of depth].
struct Flows {
  Field east, north;           // through faces, positive to the east and the north
  std::vector<double> traded;  // m of the cell's area, positive to the partner
  std::vector<double> left;    // m of the cell's area
  std::vector<double> entered; // m of the cell's area
};

// Of the right sizes, all nothing.
Flows make_flows(const Balance& balance);

// Newton's linear system for H: residual [m] (positive: the cell holds too much) and its derivatives. `free`
// is 1 for cells that move, 0 for those held at a bound by the sign of their residual: empty cells that would
// lose water, full ones that would gain it. Held cells have residual 0.
struct Linearised {
  Stencil stencil; // of the unknowns H
  Field residual;  // m
  Field free;      // 1 or 0
};

// Of the right sizes; then filled for saturated thicknesses [m], flows with them.
Linearised make_linearised(const Balance& balance);
void linearise(const Balance& balance, const Field& saturated, Flows& flows, Linearised& system);

// The water of one trade [m of the cell's area] at a thickness, and its slope.
struct TradeFlow {
  double flow = 0;  // out of the cell, over the step [m]
  double slope = 0; // m/m
};
// At a saturated thickness [m].
TradeFlow trade_flow(const Trade& trade, double saturated);

} // namespace lowspot::perched
