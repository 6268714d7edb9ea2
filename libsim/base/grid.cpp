#include <lowspot/base/grid.hpp>

#include <cmath>

namespace lowspot {

long cell_at(const Grid& grid, double x, double y) {
  const double along = (x - grid.x0) / grid.cell;
  const double up = (y - grid.y0) / grid.cell;
  const double slack = 1e-9;
  if (!(along >= -slack && up >= -slack && along <= grid.nx + slack && up <= grid.ny + slack)) return -1;
  // On a side between two cells the one beyond it: which may not hang on round-off, nor on where the yard
  // lies.
  constexpr double hair = 1e-6;
  int i = static_cast<int>(std::floor(along + hair));
  int j = static_cast<int>(std::floor(up + hair));
  if (i < 0) i = 0;
  if (j < 0) j = 0;
  if (i >= grid.nx) i = grid.nx - 1;
  if (j >= grid.ny) j = grid.ny - 1;
  return static_cast<long>(grid.index(i, j));
}

} // namespace lowspot
