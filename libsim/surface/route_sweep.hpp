// Sheet and rill flow between the pools: one sweep downhill that moves water, one uphill that finds the slope
// of its surface.
#pragma once
#include <vector>

#include <lowspot/surface/route_pool_step.hpp>

namespace lowspot::surface {

// What the sweeps know of a slot and its links beside the water itself.
struct RouteSlopes {
  // Of the bed, until the first sweep.
  explicit RouteSlopes(const RouteGraph& graph);

  // Outflow of a slot [m/s]: conveyance * h^(5/3), times (own * h + drop)^(1/2) where the level here matters:
  // the fall of the water surface to the water below, which follows the level here by the share 1 - own.
  Field conveyance;
  Field own;      // 0: the ground is so steep that the level here does not matter
  Field drop;     // m
  Field response; // change of the level for a change of the logarithm of all discharge [m]
  Field root;     // h^(1/3) at the last step [m^(1/3)]
  Field outflow;  // m/s at the last step
  Field through;  // m/s, outflow smoothed over steps
  Field slope;    // of the water surface over each link, smoothed over steps
  Field share;    // of a slot's outflow that takes each link
};

// The y that solves y^3 + a y^5 = b for a, b >= 0, from a guess: the depth y^3 left of b [m] in a cell that
// loses a h^(5/3) in a step.
double drained_root(double a, double b, double guess);

// The h that solves h + a h^(5/3) (own h + drop)^(1/2) = b, from a guess of h^(1/3); b where nothing falls.
double drained_depth(double a, double own, double drop, double b, double guess);

// Moves water downhill for dt [s], cells and pools in the order of their levels, each balanced at the end of
// the step with what arrived during it. Returns the greatest outflow of a cell or pool [m/s].
double sweep_downhill(double dt, const RouteGraph& graph, RoutedPools& pools, RoutedWater& water,
                      RouteSlopes& slopes, RoutedFaces& faces);

// Takes the slope of the water surface for each link, from below upward, so that water backs up from pools
// and over flat ground: the level of a cell is that at which it would pass on its present outflow at normal
// depth (the standard step method). all: also where the outflow has hardly changed.
void sweep_uphill(const RouteGraph& graph, const RoutedPools& pools, RoutedWater& water, RouteSlopes& slopes,
                  bool all);

} // namespace lowspot::surface
