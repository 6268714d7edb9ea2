// The ground as it would be without slabs: what the tight layer under them follows.
#pragma once
#include <lowspot/terrain/ground.hpp>

namespace lowspot::terrain {

// Fills natural_elevation, slab_thickness and base_depth. Builders cut the topsoil for a slab and its base,
// but the tight layer below stays where the lot was graded: under a slab (an impervious area with a
// `surface`) the ground is carried across from all round it as a stretched membrane hangs (fill_holes());
// buildings are passed under. Elsewhere it is the ground itself. A yard paved all over leaves nothing to go
// by: the tight layer then lies parallel to the slab. Call after lay_slabs().
void find_natural_ground(const site::Site& site, Ground& ground);

} // namespace lowspot::terrain
