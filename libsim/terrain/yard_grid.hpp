// The grid over the yard and which of its cells are ground.
#pragma once
#include <cstdint>
#include <vector>

#include <lowspot/base/field.hpp>
#include <lowspot/base/geometry.hpp>
#include <lowspot/base/grid.hpp>
#include <lowspot/site/site.hpp>

namespace lowspot::terrain {

// `wanted` when it is a number, else the site's cell, else site::default_cell() (then listed in
// `assumptions`) [m].
double choose_cell(const site::Site& site, double wanted, std::vector<site::Assumption>& assumptions);

// Covers the outline's bounds from its south-west corner. Throws InputError when the cell is no positive
// number or there would be more than limits::grid_cells or more than memory holds.
Grid make_grid(const site::Site& site, double cell);

// 1 where a cell's centre lies inside the polygon.
Mask centres_inside(const Grid& grid, const Polygon& polygon);

// What stands on a cell: nothing of the yard, its ground, or a building.
enum class CellKind : std::uint8_t { outside, ground, building };
// A cell is what its centre lies in; a building counts as one also beyond the outline.
std::vector<CellKind> cell_kinds(const Grid& grid, const site::Site& site);

} // namespace lowspot::terrain
