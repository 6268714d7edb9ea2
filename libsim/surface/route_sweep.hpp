// Sheet and rill flow between the pools: one sweep downhill that moves water, one uphill that finds the slope
// of its surface.
#pragma once
#include <array>
#include <span>
#include <vector>

#include <lowspot/surface/route_pool_step.hpp>

namespace lowspot::surface {

// How a slot gives water away. Outflow [m/s]: conveyance * h^(5/3), times (own * h + drop)^(1/2) where the
// level here matters: the fall of the water surface to the water below, which follows the level here by the
// share 1 - own.
struct RouteOutflow {
  float conveyance = 0; // 0: no way down
  float own = 0;        // 0: the ground is so steep that the level here does not matter
  float drop = 0;       // m
  float root = 0;       // h^(1/3) at the last step [m^(1/3)]
  float outflow = 0;    // m/s at the last step
  float through = 0;    // m/s, outflow smoothed over steps
  int cell = 0, row = 0;
};

// The four sides of a slot: west, east, south, north. No way down: to the slot itself, at a slope of no_way.
struct alignas(16) RouteWays {
  std::array<int, 4> to; // slot, the number of slots for what leaves the yard
  std::array<float, 4>
      slope; // of the water surface, smoothed over steps; over an open face that of the ground
  std::array<float, 4> share; // of the slot's outflow; together just less than 1
};
constexpr float no_way = -1;

// What the sweeps know of slots beside the water itself.
struct RouteSlopes {
  // Of the bed, until the first sweep.
  explicit RouteSlopes(const RouteGraph& graph);

  std::vector<RouteOutflow> slot;
  std::vector<RouteWays> ways;
  std::vector<float> response;      // change of the level for a change of the logarithm of all discharge [m]
  std::vector<RoutedPoolTurn> turn; // of pools, by falling level; worked out anew in every step
};

// Moves water downhill for dt [s], cells and pools in the order of their levels, each balanced at the end of
// the step with what arrived during it. Returns the greatest outflow of a cell or pool [m/s].
double sweep_downhill(double dt, const RouteGraph& graph, RoutedPools& pools, RoutedWater& water,
                      RouteSlopes& slopes, RoutedFaces& faces);

// The same where nothing is supplied and only these slots, in rising order, hold water.
double sweep_downhill(double dt, std::span<const int> wet, const RouteGraph& graph, RoutedPools& pools,
                      RoutedWater& water, RouteSlopes& slopes, RoutedFaces& faces);

// Takes the slope of the water surface for each way down, from below upward, so that water backs up from
// pools and over flat ground: the level of a cell is that at which it would pass on its present outflow at
// normal depth (the standard step method).
void sweep_uphill(const RouteGraph& graph, const RoutedPools& pools, RoutedWater& water, RouteSlopes& slopes);

} // namespace lowspot::surface
