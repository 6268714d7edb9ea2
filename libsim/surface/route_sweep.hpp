// Sheet and rill flow between the pools: one sweep downhill that moves water.
#pragma once
#include <span>

#include <lowspot/surface/route_pool_step.hpp>
#include <lowspot/surface/route_slopes.hpp>

namespace lowspot::surface {

// What a sweep downhill has moved.
struct Swept {
  double greatest = 0; // outflow of a cell or pool [m/s]
  double passed = 0;   // outflow summed over all cells with moving water [m/s]
};

// Moves water downhill for dt [s], cells and pools in the order of their levels, each balanced at the end of
// the step with what arrived during it.
// packs: numbers in RouteSlopes::pack, in rising order; the slots of all others hold no water and are given
// none.
Swept sweep_downhill(double dt, std::span<const int> packs, const RouteGraph& graph, RoutedPools& pools,
                     RoutedWater& water, RouteSlopes& slopes, RoutedFaces& faces);

// The same everywhere.
Swept sweep_downhill(double dt, const RouteGraph& graph, RoutedPools& pools, RoutedWater& water,
                     RouteSlopes& slopes, RoutedFaces& faces);

// Pools that were given more after their turn pass it on within the same step of dt [s], by falling level,
// and those that it lifts on the way.
void sweep_again(double dt, const RouteGraph& graph, RoutedPools& pools, RoutedWater& water,
                 RouteSlopes& slopes, RoutedFaces& faces);

} // namespace lowspot::surface
