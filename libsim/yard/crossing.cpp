#include <lowspot/yard/crossing.hpp>

#include <cmath>

namespace lowspot::yard {
namespace {
struct Corner { // of the grid: where four cells meet
  int column, row;
};

Corner nearest_corner(const Grid& grid, const Point& point) {
  return {static_cast<int>(std::lround((point.x - grid.x0) / grid.cell)),
          static_cast<int>(std::lround((point.y - grid.y0) / grid.cell))};
}

void add_x_move(const Grid& grid, surface::FaceSet& faces, Corner from, int direction) {
  const int i = direction > 0 ? from.column : from.column - 1;
  if (i < 0 || i >= grid.nx || from.row < 0 || from.row > grid.ny) return;
  faces.y_faces.push_back(static_cast<int>(grid.y_face(i, from.row)));
  faces.y_signs.push_back(static_cast<signed char>(-direction)); // going east, the right hand is south
}

void add_y_move(const Grid& grid, surface::FaceSet& faces, Corner from, int direction) {
  const int j = direction > 0 ? from.row : from.row - 1;
  if (j < 0 || j >= grid.ny || from.column < 0 || from.column > grid.nx) return;
  faces.x_faces.push_back(static_cast<int>(grid.x_face(from.column, j)));
  faces.x_signs.push_back(static_cast<signed char>(direction)); // going north, the right hand is east
}
} // namespace

surface::FaceSet faces_crossed(const Grid& grid, const Polyline& line) {
  surface::FaceSet faces;
  if (line.size() < 2) return faces;
  const double total = length(line);
  const int samples = std::max(1, static_cast<int>(std::ceil(total / grid.cell * 10)));
  Corner here = nearest_corner(grid, line.front());
  for (int k = 1; k <= samples; ++k) {
    const Corner next = nearest_corner(grid, point_along(line, total * k / samples));
    while (here.column != next.column) {
      const int direction = next.column > here.column ? 1 : -1;
      add_x_move(grid, faces, here, direction);
      here.column += direction;
    }
    while (here.row != next.row) {
      const int direction = next.row > here.row ? 1 : -1;
      add_y_move(grid, faces, here, direction);
      here.row += direction;
    }
  }
  return faces;
}

} // namespace lowspot::yard
