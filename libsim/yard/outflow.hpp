// Where perched water leaves the yard underground.
#pragma once
#include <vector>

#include <lowspot/perched/perched.hpp>
#include <lowspot/site/site.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::yard {

// Unit vector out of the yard, at right angles to the side of the outline that is nearest to a face at the
// limit; of two sides as near that to which the face looks.
Point out_of_yard(const site::Site& site, const Grid& grid, const terrain::EdgeFace& edge);

// The faces at open edges (edges.underground overrides them) and the fall of the tight layer through each
// [m/m]. Water leaves over the limit, not over the stairs that cells make of it: the tight layer goes on
// beyond it at the slope it has at right angles to it, and a face passes the share of that flow to which it
// looks, so that the stairs of a limit pass as much as its length, and those of one along which the layer
// falls nothing.
std::vector<perched::OutflowFace> place_outflow(const site::Site& site, const terrain::Ground& ground,
                                                const Field& tight_elevation);

} // namespace lowspot::yard
