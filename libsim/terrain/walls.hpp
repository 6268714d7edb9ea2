// Walls as crests on faces.
#pragma once
#include <vector>

#include <lowspot/base/geometry.hpp>
#include <lowspot/base/grid.hpp>
#include <lowspot/site/site.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::terrain {

// Where a line passes between the centres of two cells.
struct FaceCrossing {
  std::size_t face = 0; // Grid::x_face or Grid::y_face between them
  double share = 0;     // of the way from the western or southern centre to the other
};

// The faces of the grid that a line crosses.
struct WallFaces {
  std::vector<FaceCrossing> x, y; // by rising index of the face, each as often as the line crosses it
};

// The faces between cells whose centres lie on different sides of the line: a staircase along it. A path from
// cell to cell can pass the line only through one of them, so a wall leaks nowhere, whatever its direction.
// Faces at the limit of the grid count as well, the cell beyond being thought of.
WallFaces faces_on(const Grid& grid, const Polyline& line);

// Sets crest_x and crest_y: the wall's height over the ground where it stands, which is carried on to its
// line from either side, the higher of the two where that is a step; of several walls the highest.
void raise_walls(const site::Site& site, Ground& ground);

} // namespace lowspot::terrain
