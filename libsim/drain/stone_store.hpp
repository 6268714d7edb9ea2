// How much water the stone of a station holds: its pores, without the bore of the pipe that lies in it.
#pragma once
#include <lowspot/drain/network.hpp>

namespace lowspot::drain {

// Volume at a level [m3], what a rise adds there [m2], and the level at a volume [m].
double stone_volume(const StoneStore& store, double level);
double stone_area(const StoneStore& store, double level);
double stone_level_for(const StoneStore& store, double volume);

} // namespace lowspot::drain
