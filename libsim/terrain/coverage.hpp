// How much of each cell each outline covers, exact to round-off, and what of it is seen from above.
#pragma once
#include <vector>

#include <lowspot/base/geometry.hpp>
#include <lowspot/base/grid.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::terrain {

// Shares of cells covered by one polygon. They sum to the polygon's area over the cell's where the grid holds
// it.
Coverage cover_cells(const Grid& grid, const Polygon& polygon);

// All of the grid that lies outside the outline, and a cell's width beyond, as one polygon.
Polygon outside_of(const Polygon& outline, const Grid& grid);

// What is visible of each polygon when later ones lie over earlier ones; shares of one cell never sum to
// over 1. Exact, also where several boundaries cut one cell (see visible_shares).
std::vector<Coverage> visible_coverage(const Grid& grid, const std::vector<Polygon>& polygons);

// Areas [m2] of a box in which each of the polygons is the topmost, later ones lying over earlier ones. The
// box is cut into strips between all heights at which corners lie or sides cross; in a strip every visible
// piece is a trapezium. Time grows with the number of strips times the number of sides.
std::vector<double> visible_shares(const std::vector<const Polygon*>& polygons, const Box& box);

} // namespace lowspot::terrain
