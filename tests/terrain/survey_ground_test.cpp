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
  const Survey survey = points({{6, 6, 5.2}, {14, 6, 5.2}, {14, 14, 4.8}, {6, 14, 4.8}});
  const DatumShift datum = datum_shift(survey, map);
  CHECK(datum.shift == 0);
  CHECK(datum.shots == 4);
  Field z(400, 5);
  const double reach = refine_by_survey(survey, map, datum, grid, z);
  CHECK_THAT(reach, WithinAbs(8, 1e-9)); // twice the root of 64 m2 over four
  CHECK_THAT(z[grid.index(9, 9)], WithinAbs(5.2 - 0.4 * 3.5 / 8, 1e-12));
  CHECK_THAT(z[grid.index(10, 1)], WithinAbs(5 + 0.2 * (1 - 4.5 / 8), 1e-12));
  // No step: neighbours differ by no more than the ramp between the shots and the fade allow.
  for (int j = 0; j < 20; ++j)
    for (int i = 1; i < 20; ++i)
      CHECK(std::abs(z[grid.index(i, j)] - z[grid.index(i - 1, j)]) <= 0.2 / 8 + 0.4 / 8 + 1e-12);
}

TEST_CASE("a shot beyond the yard and its raster bends nothing in the yard", "[survey_ground]") {
  // Ground that falls to the south by 5 %, shot where the raster has it and at a curb far south of it.
  HeightMap map = flat_map(0);
  for (int j = 0; j < 40; ++j)
    for (int i = 0; i < 40; ++i) map.raster.z[40 * j + i] = 30 + 0.05 * (j - 9.5);
  const Grid grid{20, 20, 1, 0, 0};
  Field z(400);
  for (std::size_t c = 0; c < 400; ++c) z[c] = 30 + 0.05 * grid.y(grid.row(c));
  const Field before = z;
  Survey survey = points({{2, 2, 30.1}, {18, 2, 30.1}, {18, 18, 30.9}, {2, 18, 30.9}, {10, -30, 28.5}});
  survey.edges = {{0, 4}, {0, 1}}; // a breakline out to the curb, and one in the yard
  CHECK(refine_by_survey(survey, map, datum_shift(survey, map), grid, z) > 10);
  for (std::size_t c = 0; c < 400; ++c) CHECK_THAT(z[c], WithinAbs(before[c], 1e-3));
  // All of them beyond it: nothing is said of the yard.
  CHECK(refine_by_survey(points({{2, -30, 20}, {18, -30, 20}, {10, -50, 20}}), map, {}, grid, z) == 0);
  for (std::size_t c = 0; c < 400; ++c) CHECK_THAT(z[c], WithinAbs(before[c], 1e-3));
}

TEST_CASE("levels on another datum move the whole raster, and make no ditch round the shots",
          "[survey_ground]") {
  const Grid grid{20, 20, 1, 0, 0};
  const HeightMap map = flat_map(250);
  const Survey survey = points(
      {{6, 6, 100.01}, {14, 6, 99.98}, {14, 14, 100.02}, {6, 14, 99.99}, {10, 10, 100.25}, {9, 7, 100}});
  const DatumShift datum = datum_shift(survey, map);
  CHECK_THAT(datum.shift, WithinAbs(-149.995, 1e-9)); // the middle, whatever the one on the bench
  CHECK(datum.scatter < 0.03);
  Field z(400, 250);
  refine_by_survey(survey, map, datum, grid, z);
  CHECK_THAT(z[grid.index(0, 0)], WithinAbs(100.005, 0.02));
  for (int j = 0; j < 20; ++j)
    for (int i = 1; i < 20; ++i) CHECK(std::abs(z[grid.index(i, j)] - z[grid.index(i - 1, j)]) < 0.1);
}

TEST_CASE("chance differences, or too few, are no shift of datum", "[survey_ground]") {
  const HeightMap map = flat_map(5);
  CHECK(datum_shift(points({{2, 2, 6}, {8, 2, 6}}), map).shift == 0);
  CHECK(datum_shift(points({{2, 2, 5.01}, {8, 2, 5.02}, {5, 5, 5.02}, {5, 7, 5.01}}), map).shift == 0);
  CHECK(datum_shift(points({{2, 2, 5.4}, {8, 2, 4.9}, {5, 5, 5.1}, {5, 7, 4.7}, {3, 7, 5.3}}), map).shift ==
        0);
  HeightMap holed = map;
  holed.hole.assign(1600, 1);
  CHECK(datum_shift(points({{2, 2, 6}, {8, 2, 6}, {5, 5, 6}}), holed).shots == 0);
}

TEST_CASE("a breakline corrects the raster all along, not at its corners only", "[survey_ground]") {
  HeightMap map = flat_map(5);
  for (int j = 0; j < 40; ++j)
    for (int i = 0; i < 40; ++i) map.raster.z[40 * j + i] = 5 + 0.3 * std::sin(0.4 * i);
  const Grid grid{20, 20, 0.5, 0, 0};
  Survey survey = points({{1, 1, 5}, {9, 1, 5}, {9, 9, 5}, {1, 9, 5}, {1, 5.25, 5}, {9, 5.25, 5}});
  survey.edges = {{4, 5}};
  Field z(400, 0);
  for (std::size_t c = 0; c < 400; ++c)
    z[c] = height_at(map, {grid.x(grid.column(c)), grid.y(grid.row(c))}).z;
  refine_by_survey(survey, map, {}, grid, z);
  for (int i = 2; i < 18; ++i) CHECK_THAT(z[grid.index(i, 10)], WithinAbs(5, 0.02));
}
