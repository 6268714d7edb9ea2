// Does the ground as a whole fall as yards do? Levels that are all in another unit than the site file says
// fit each other, so no single one of them looks wrong.
#pragma once
#include <lowspot/site/site.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::terrain {

// Warns where the plane through all ground falls by more than 30 %, steeper than is mown, and where all
// ground lies within 0.1 % of the yard's extent, flatter than grading makes it. Slabs count by what was shot
// under them.
void warn_of_whole_fall(const site::Site& site, Ground& ground);

} // namespace lowspot::terrain
