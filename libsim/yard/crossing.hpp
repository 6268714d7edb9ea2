// A recorded line as a staircase of cell faces.
#pragma once
#include <lowspot/base/geometry.hpp>
#include <lowspot/base/grid.hpp>
#include <lowspot/surface/flow.hpp>

namespace lowspot::yard {

// The unbroken staircase of faces nearest to a line. Flow from the left of the line (looking along it) to its
// right counts as positive. Faces beyond the grid are left out.
surface::FaceSet faces_crossed(const Grid& grid, const Polyline& line);

} // namespace lowspot::yard
