// A recorded line as parts of cell faces.
#pragma once
#include <lowspot/base/field.hpp>
#include <lowspot/base/geometry.hpp>
#include <lowspot/base/grid.hpp>
#include <lowspot/site/site.hpp>
#include <lowspot/surface/flow.hpp>

namespace lowspot::yard {

// What crosses a line, as a sum over faces. Flow from the left of the line (looking along it) to its right
// counts as positive. Within a cell the discharge is taken to change evenly from each face to the one
// opposite; beyond the yard it goes on as it left. So each face counts by the part of it that the line spans
// and by how near the line passes, wherever line and ends lie to the cells, and over a closed line goes as
// much as the cells within it lose, those at its rim by the part of them that lies within.
surface::FaceSet faces_crossed(const Grid& grid, const Mask& active, const Polyline& line);

// The line with an end that lies on the limit of the yard carried on over it by two cells: the stairs of a
// limit aslant to the cells reach beyond it, and what runs along such a side crosses the line as well.
Polyline over_the_limit(const site::Site& site, Polyline line);

} // namespace lowspot::yard
