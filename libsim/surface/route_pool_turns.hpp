// When each pool has its turn in a sweep downhill.
#pragma once
#include <lowspot/surface/route_pools.hpp>

namespace lowspot::surface {

// Sets RoutedPool::turn and turn_rank of all pools that stand. A pool has its turn before what it spills onto
// and after all that it covers; streams that come to it have had theirs. Pools that stand above what parts
// them pass water on to one another, toward the way out of them all: the farther first, whichever stands a
// little higher at the moment, lest they give it to each other by turns.
void order_pools(const RouteGraph& graph, RoutedPools& pools, const RoutedWater& water);

} // namespace lowspot::surface
