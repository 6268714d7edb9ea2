// Ground that a design grades to planes.
#pragma once
#include <span>

#include <lowspot/site/site.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::terrain {

// Grades the ground as it was before them [m, one a cell] to the planes of works that follow each other
// without others between them, later ones lying over earlier ones. A cell that outlines cut is moved by the
// share of it that each takes up, and by what the middle of that part is moved: exact in volume where the
// ground is plane. What of a cell lies beyond the yard, under a building or on a slab is not graded and does
// not count: there the rest of it is moved. Cells whose centre lies on a slab are left; a warning of the
// ground names the slabs in the way of the last work. Throws InputError when the levels of a work span no
// plane.
void lay_planes(const site::Site& site, std::span<const site::Regrade> works, const Field& before,
                Ground& ground);

} // namespace lowspot::terrain
