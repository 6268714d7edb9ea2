// The computational grid: square cells, row 0 in the south, column 0 in the west.
#pragma once
#include <cstddef>

namespace lowspot {

// nx by ny square cells of side `cell` [m]; (x0, y0) is the south-west corner of cell (0, 0) [m].
// Cell (i, j) has index j * nx + i. Faces normal to x: (nx + 1) * ny, index j * (nx + 1) + i, face i lying
// west of cell i. Faces normal to y: nx * (ny + 1), index j * nx + i, face j lying south of cell j.
struct Grid {
  int nx = 0;      // columns
  int ny = 0;      // rows
  double cell = 0; // side of a cell [m]
  double x0 = 0;   // of the western limit [m]
  double y0 = 0;   // of the southern limit [m]

  std::size_t cells() const { return static_cast<std::size_t>(nx) * ny; }
  std::size_t x_faces() const { return static_cast<std::size_t>(nx + 1) * ny; }
  std::size_t y_faces() const { return static_cast<std::size_t>(nx) * (ny + 1); }
  std::size_t index(int i, int j) const { return static_cast<std::size_t>(j) * nx + i; }
  std::size_t x_face(int i, int j) const { return static_cast<std::size_t>(j) * (nx + 1) + i; }
  std::size_t y_face(int i, int j) const { return static_cast<std::size_t>(j) * nx + i; }
  int column(std::size_t index) const { return static_cast<int>(index % nx); }
  int row(std::size_t index) const { return static_cast<int>(index / nx); }
  double x(int i) const { return x0 + (i + 0.5) * cell; } // centre of column i [m]
  double y(int j) const { return y0 + (j + 0.5) * cell; } // centre of row j [m]
  double cell_area() const { return cell * cell; }
  bool inside(int i, int j) const { return i >= 0 && j >= 0 && i < nx && j < ny; }
};

// The cell that holds a point, or -1 outside. A point on the far edge belongs to the last cell.
long cell_at(const Grid& grid, double x, double y);

} // namespace lowspot
