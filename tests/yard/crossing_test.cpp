#include "catch.hpp"

#include <lowspot/yard/crossing.hpp>

using namespace lowspot;

TEST_CASE("a straight line crosses one face a row, flow to its right positive") {
  const Grid grid{10, 6, 0.5, 0, 0};
  const surface::FaceSet north = yard::faces_crossed(grid, {{2.0, 0.0}, {2.0, 3.0}});
  REQUIRE(north.x_faces.size() == 6);
  CHECK(north.y_faces.empty());
  for (std::size_t k = 0; k < 6; ++k) {
    CHECK(north.x_faces[k] == static_cast<int>(grid.x_face(4, static_cast<int>(k))));
    CHECK(north.x_signs[k] == 1); // going north, east is to the right
  }
  const surface::FaceSet east = yard::faces_crossed(grid, {{0.0, 1.0}, {5.0, 1.0}});
  REQUIRE(east.y_faces.size() == 10);
  for (signed char sign : east.y_signs) CHECK(sign == -1); // going east, south is to the right
}

TEST_CASE("a slanting line is an unbroken staircase: uniform flow crosses its full projection") {
  const Grid grid{20, 20, 1, 0, 0};
  const surface::FaceSet slanting = yard::faces_crossed(grid, {{2, 0}, {13, 20}});
  int across_x = 0, across_y = 0;
  for (signed char sign : slanting.x_signs) across_x += sign;
  for (signed char sign : slanting.y_signs) across_y += sign;
  CHECK(across_x == 20);  // its rise
  CHECK(across_y == -11); // its run
}

TEST_CASE("a line beyond the grid crosses nothing") {
  const Grid grid{4, 4, 1, 0, 0};
  CHECK(yard::faces_crossed(grid, {{10, 0}, {10, 4}}).x_faces.empty());
  CHECK(yard::faces_crossed(grid, {{1, 1}}).x_faces.empty());
}
