#include "catch.hpp"

#include <cmath>

#include <lowspot/terrain/survey_ground.hpp>

#include "yards.hpp"

using namespace lowspot;
using namespace lowspot::terrain;

namespace {
Survey points(const std::vector<Point3>& places_) {
  Survey survey;
  for (const Point3& p : places_) survey.points.push_back({"p", p, 1, true});
  return survey;
}
HeightMap flat_map(double z) {
  HeightMap map;
  map.raster.nx = map.raster.ny = 40;
  map.raster.dx = map.raster.dy = 1;
  map.raster.x0 = map.raster.y0 = -10;
  map.raster.z.assign(1600, z);
  map.hole.assign(1600, 0);
  return map;
}
} // namespace

TEST_CASE("cells beyond the shots are marked and level on", "[survey_ground]") {
  const Grid grid{10, 10, 1, 0, 0};
  Mask outside(100, 0);
  const Field z = survey_heights(points({{2, 2, 1}, {8, 2, 1}, {8, 8, 1.6}, {2, 8, 1.6}}), grid, outside);
  int beyond = 0;
  for (std::size_t c = 0; c < 100; ++c) {
    const double y = std::min(8.0, std::max(2.0, grid.y(grid.row(c))));
    CHECK_THAT(z[c], WithinAbs(1 + 0.1 * (y - 2), 1e-12));
    beyond += outside[c];
  }
  CHECK(beyond == 64);
}

TEST_CASE("shots correct a raster between them and fade out beyond", "[survey_ground]") {
  const Grid grid{20, 20, 1, 0, 0};
  const HeightMap map = flat_map(5);
  Field z(400, 5);
  const double reach =
      refine_by_survey(points({{6, 6, 5.2}, {14, 6, 5.2}, {14, 14, 5.2}, {6, 14, 5.2}}), map, grid, z);
  CHECK_THAT(reach, WithinAbs(8, 1e-9)); // twice the root of 64 m2 over four
  CHECK_THAT(z[grid.index(9, 9)], WithinAbs(5.2, 1e-12));
  CHECK_THAT(z[grid.index(2, 10)], WithinAbs(5.2 - 0.2 * 3.5 / 8, 1e-12));
  // No step: neighbours differ by no more than the fade allows.
  for (int j = 0; j < 20; ++j)
    for (int i = 1; i < 20; ++i)
      CHECK(std::abs(z[grid.index(i, j)] - z[grid.index(i - 1, j)]) <= 0.2 / 8 + 1e-12);
}
