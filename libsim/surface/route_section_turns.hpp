// The order in which sections have their turn in a sweep downhill: after what hands water to them, before
// what they hand it to.
#pragma once
#include <lowspot/surface/route_slopes.hpp>

namespace lowspot::surface {

// Gives each section its turn. What feeds one and would come too late by its bed becomes a section of one
// cell; sections that feed each other in a circle are none any more.
void order_sections(const RouteGraph& graph, const RoutedPools& pools, const RoutedWater& water,
                    RouteSlopes& slopes);

// The sections of the step before, for one more: without cells that a pool has reached, ordered anew.
void keep_sections(const RouteGraph& graph, const RoutedPools& pools, const RoutedWater& water,
                   RouteSlopes& slopes);

// Ways down from a slot, by bits of the sides, that were across a section and are no more: they fall as the
// water stands now.
void let_fall(const RouteGraph& graph, const RoutedWater& water, RouteSlopes& slopes, int s, int sides);

} // namespace lowspot::surface
