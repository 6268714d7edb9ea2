// Open edges: water leaves at normal depth for the local slope, as if the ground went on as it came.
#pragma once
#include <lowspot/surface/workspace.hpp>

namespace lowspot::surface {

// A bed flatter than this says nothing about where water would go on [m/m].
constexpr double flat_bed = 1e-3;
// Water leaves over a flat sill at the slope of its surface, at least this [m/m]: a few millimetres of head.
constexpr double least_edge_slope = 5e-3;

// What passes an open edge.
struct EdgeFlow {
  double discharge = 0; // m2/s, >= 0: out of the yard
  double speed = 0;     // m/s, along the slope
};

// Manning's normal flow h^(5/3) / n * S_n / sqrt(|S|) with the slope as a vector: S_n from the bed, across
// from the water surface. Where the bed is flat outward the water surface gives S_n.
EdgeFlow edge_flow(const Outfall& outfall, const Workspace& work, double cell_size);

} // namespace lowspot::surface
