// Walls as crests on faces.
#pragma once
#include <vector>

#include <lowspot/base/geometry.hpp>
#include <lowspot/base/grid.hpp>
#include <lowspot/site/site.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::terrain {

// The faces of the grid that a line crosses.
struct WallFaces {
  std::vector<std::size_t> x_faces, y_faces; // indices of Grid::x_face and Grid::y_face, rising, each once
};

// The faces between cells whose centres lie on different sides of the line: a staircase along it. A path from
// cell to cell can pass the line only through one of them, so a wall leaks nowhere, whatever its direction.
// Faces at the limit of the grid count as well, the cell beyond being thought of.
WallFaces faces_on(const Grid& grid, const Polyline& line);

// Sets crest_x and crest_y: the higher ground beside the face plus the wall's height; of several walls the
// highest.
void raise_walls(const site::Site& site, Ground& ground);

} // namespace lowspot::terrain
