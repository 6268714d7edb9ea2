// Open edges: water leaves at normal depth for the slope of the ground, as if that went on as it came.
#pragma once
#include <lowspot/surface/workspace.hpp>

namespace lowspot::surface {

// A bed that falls outward by at least this goes on as it came; a flatter one says the less about what lies
// beyond the flatter it is [m/m].
constexpr double flat_bed = 1e-3;
// Beyond flat ground, and over a rim, it is taken to fall away by this [m/m]: a few millimetres of head.
constexpr double flat_edge_slope = 5e-3;

// Slope of the ground beyond the edge [m/m], from that of the bed before it alone: its own where that is
// flat_bed or more, changing evenly to flat_edge_slope where there is none.
double slope_beyond(const Outfall& outfall);

// What passes an open edge.
struct EdgeFlow {
  double discharge = 0; // m2/s, >= 0: out of the yard
  double speed = 0;     // m/s, along the slope
};

// Manning's normal flow h^(5/3) / n * S_n / sqrt(|S|) with the slope as a vector: S_n from the bed, across
// from the water surface. S_n does not follow the water: a depth at the edge for each discharge is what a
// steady drawdown needs to come to rest, and to the same profile however fine the cells. With the slope of
// the water surface the edge would only say again what the face before it says.
EdgeFlow edge_flow(const Outfall& outfall, const Workspace& work, double cell_size);

} // namespace lowspot::surface
