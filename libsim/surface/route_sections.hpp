// Sections: cells of moving water that stand at one level across the bed of a swale. Water passes between
// them both ways and far faster than in a step of the routed method, so that they are balanced as one.
#pragma once
#include <span>
#include <vector>

#include <lowspot/surface/route_slopes.hpp>

namespace lowspot::surface {

// Finds the sections in which the water stands before a step of dt [s]: cells beside each other across the
// flow, where the water of the lower bed covers the higher and the surface is much flatter than the bed.
void find_sections(double dt, const RouteGraph& graph, const RoutedPools& pools, const RoutedWater& water,
                   RouteSlopes& slopes);

// No cell is in a section any more.
void forget_sections(const RouteGraph& graph, const RoutedWater& water, RouteSlopes& slopes);

} // namespace lowspot::surface
