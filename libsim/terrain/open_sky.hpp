// Where rain falls that no roof catches.
#pragma once
#include <vector>

#include <lowspot/terrain/ground.hpp>
#include <lowspot/terrain/yard_grid.hpp>

namespace lowspot::terrain {

// The area open to the sky that drains to each active cell, over the cell's: what no building covers of it,
// and what is left open of cells beside it that count as building, in equal parts for the active cells across
// their faces (or their corners, where there is none). Areas of roofs and this add up to the area of all
// cells that are ground or building. Needs the coverage of the buildings and the active cells.
Field open_sky(const Ground& ground, const std::vector<CellKind>& kinds);

} // namespace lowspot::terrain
