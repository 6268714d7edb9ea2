// What lies on the ground at a place.
#pragma once
#include <lowspot/site/site.hpp>

namespace lowspot::site {

// The area that lies topmost at a place, or Site::lawn where none lies.
const Area& area_at(const Site& site, const Point& place);
// Whether it is turf, which is lifted before a trench is dug and laid again: grass by its cover or by its
// plants.
bool is_lawn(const Area& area);

} // namespace lowspot::site
