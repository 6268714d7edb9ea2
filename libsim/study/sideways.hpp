// Moving the runs of a design that take water in sideways, as one.
#pragma once
#include <lowspot/site/site.hpp>

namespace lowspot::study {

// Moves the runs marked in `varied` parallel to themselves by `distance` [m], away from the nearest slab or
// building (towards the outlet where the yard has neither); negative: nearer. Corners and fittings where
// moved runs meet stay on all of them, what leads on from such a fitting begins at its new place, and ends at
// outlets, inlets or other fittings stay. The number of points of each path is kept.
void move_sideways(const site::Site& site, const std::vector<bool>& varied, double distance,
                   site::Design& design);

} // namespace lowspot::study
