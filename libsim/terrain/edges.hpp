// The limits of the yard: which faces lie on them, and whether water leaves there.
#pragma once
#include <vector>

#include <lowspot/site/site.hpp>
#include <lowspot/terrain/ground.hpp>
#include <lowspot/terrain/yard_grid.hpp>

namespace lowspot::terrain {

// Every face of a ground cell towards a cell outside the outline. Faces towards buildings are none: they are
// walls. A face belongs to the side of the outline nearest to its middle, whose outward direction names the
// compass side (on a diagonal, the face's own). Parts override the compass, the later part the earlier: a
// face belongs to a part when it lies on the shorter way along the outline between the part's ends.
std::vector<EdgeFace> find_edges(const site::Site& site, const Grid& grid,
                                 const std::vector<CellKind>& kinds);

} // namespace lowspot::terrain
