// Sheet and rill flow between the pools: one sweep downhill that moves water.
#pragma once
#include <span>

#include <lowspot/surface/route_pool_step.hpp>
#include <lowspot/surface/route_slopes.hpp>

namespace lowspot::surface {

// Moves water downhill for dt [s], cells and pools in the order of their levels, each balanced at the end of
// the step with what arrived during it. Returns the greatest outflow of a cell or pool [m/s].
// packs: numbers in RouteSlopes::pack, in rising order; the slots of all others hold no water and are given
// none.
double sweep_downhill(double dt, std::span<const int> packs, const RouteGraph& graph, RoutedPools& pools,
                      RoutedWater& water, RouteSlopes& slopes, RoutedFaces& faces);

// The same everywhere.
double sweep_downhill(double dt, const RouteGraph& graph, RoutedPools& pools, RoutedWater& water,
                      RouteSlopes& slopes, RoutedFaces& faces);

} // namespace lowspot::surface
