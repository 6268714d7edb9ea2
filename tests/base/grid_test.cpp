#include "catch.hpp"

#include <lowspot/base/grid.hpp>

using namespace lowspot;

TEST_CASE("Cells and faces are numbered row by row from the south-west") {
  const Grid grid{4, 3, 0.5, 10, 20};
  CHECK(grid.cells() == 12);
  CHECK(grid.x_faces() == 15);
  CHECK(grid.y_faces() == 16);
  CHECK(grid.index(3, 2) == 11);
  CHECK(grid.x_face(4, 2) == 14);
  CHECK(grid.y_face(3, 3) == 15);
  for (std::size_t k = 0; k < grid.cells(); ++k) CHECK(grid.index(grid.column(k), grid.row(k)) == k);
  CHECK(grid.x(0) == 10.25);
  CHECK(grid.y(2) == 21.25);
  CHECK(grid.cell_area() == 0.25);
  CHECK(grid.inside(3, 2));
  CHECK_FALSE(grid.inside(4, 0));
  CHECK_FALSE(grid.inside(0, -1));
}

TEST_CASE("The cell of a point; the far edges belong to the last cells") {
  const Grid grid{4, 3, 0.5, 10, 20};
  for (int j = 0; j < 3; ++j)
    for (int i = 0; i < 4; ++i)
      CHECK(cell_at(grid, grid.x(i), grid.y(j)) == static_cast<long>(grid.index(i, j)));
  CHECK(cell_at(grid, 10, 20) == 0);
  CHECK(cell_at(grid, 12, 21.5) == 11);
  CHECK(cell_at(grid, 12.001, 20) == -1);
  CHECK(cell_at(grid, 9.999, 20) == -1);
  CHECK(cell_at(grid, 11, 21.501) == -1);
  CHECK(cell_at(grid, 0.0 / 0.0, 20) == -1);
}

TEST_CASE("A point on a side between cells lies in the same one wherever the yard lies") {
  constexpr double foot = 0.3048;
  for (const double east : {0.0, 1000.0, 2345.67, 1.5e6})
    for (int k = 0; k < 40; ++k) {
      const Grid grid{40, 40, 0.5 * foot, east * foot, 0};
      CAPTURE(east, k);
      CHECK(cell_at(grid, (east + 0.5 * k) * foot, 1e-3) == k);
      CHECK(cell_at(grid, east * foot + 1e-3, 0.5 * k * foot) == 40 * k);
    }
}
