// The ground as the works of a design leave it.
#pragma once
#include <lowspot/site/site.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::terrain {

// Whether a design changes the ground or its soil.
bool changes_ground(const site::Design& design);

// A copy of the ground of the yard as it is with a design's regrading, basins and amended soil: elevations of
// active cells, what was moved (Ground::earthworks) and where the topsoil is better (Ground::amended). Cells
// belong to a basin or amended soil when their centre lies in it; to planes they belong by share, see
// lay_planes(). Slabs (impervious areas) are left as they are by regrading.
// Works follow each other as they are listed: regrading, then basins, then soil. Topsoil is taken to be
// stripped first and spread again, so that the tight layer follows the new ground. The banks of a basin slope
// inward from the ground at its outline, within which all digging stays. What stands in the way or turns out
// smaller than meant is told in the warnings of the ground. A swale that ends in a basin and falls to it is
// no way out of it: its mouth stays open as far as its banks hold the overflow. Throws InputError for a basin
// whose overflow lies below its rim.
Ground reshape(const site::Site& site, const Ground& as_is, const site::Design& design);
// The ground that a design is built on: reshape() where the design changes it and `ground` has not been
// reshaped yet, else a copy of `ground`. Throws as reshape().
Ground ground_of(const site::Site& site, const Ground& ground, const site::Design& design);

} // namespace lowspot::terrain
