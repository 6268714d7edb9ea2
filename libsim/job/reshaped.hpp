// Which ground the regrading of a design gives another shape.
#pragma once
#include <lowspot/site/site.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::job {

// 1: planes, swales with their sides, and berms change this cell of the yard; what stands already does not
// count. `as_is`: the ground of the yard. Throws what terrain::reshape() throws.
Mask reshaped_cells(const site::Site& site, const site::Design& design, const terrain::Ground& as_is);

} // namespace lowspot::job
