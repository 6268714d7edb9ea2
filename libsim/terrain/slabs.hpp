// Areas that are planes: patios, walks, drives.
#pragma once
#include <lowspot/site/site.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::terrain {

// Sets the elevation of cells whose centre lies on a visible area with three or more surface shots to the
// plane through them. Warns where a shot lies more than 1/2 inch off a plane fitted through more than three.
// Throws InputError when an area's shots lie on one line.
void lay_slabs(const site::Site& site, Ground& ground);

// The impervious area on top at each cell's centre, as a place in the site's areas; -1: none.
std::vector<int> slabs_of(const site::Site& site, const Grid& grid);

} // namespace lowspot::terrain
