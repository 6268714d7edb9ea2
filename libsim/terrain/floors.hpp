// Floors of buildings against the ground beside them.
#pragma once
#include <lowspot/site/site.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::terrain {

// Warns of each building whose `floor` lies more than 10 ft above the highest ground along its walls, or more
// than 10 ft (a basement) below the lowest.
void warn_of_floors(const site::Site& site, Ground& ground);

} // namespace lowspot::terrain
