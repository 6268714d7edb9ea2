// Swales and berms: a bed or a crest along a line, with sides that slope to the ground.
#pragma once
#include <lowspot/site/site.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::terrain {

// A swale only cuts, a berm only fills: level across its width, then sloping outward from there until it
// meets the ground. What lies beyond that (behind a house, in a hollow of its own) is left as it is, and so
// are slabs (impervious areas), which end a side: a warning of the ground names those that stand in the way.
// A cell in which bed or side end is moved by the mean over its area; the cells along the path are as deep or
// high as drawn, so that water follows it, however much narrower than they it is. Returns the earth as drawn,
// without what this widens [m3].
double lay_along_path(const site::Site& site, const site::Regrade& work, Ground& ground);

} // namespace lowspot::terrain
