#include "catch.hpp"

#include <cmath>
#include <limits>
#include <stdexcept>

#include <lowspot/terrain/plane.hpp>

using namespace lowspot;
using namespace lowspot::terrain;

TEST_CASE("a plane through three shots is exact, also far from the origin", "[plane]") {
  const double far = GENERATE(0.0, 5e5);
  auto z = [&](double x, double y) { return 100 - 0.02 * (x - far) + 0.01 * (y - far); };
  const auto plane = fit_plane({{far, far, z(far, far)},
                                {far + 7, far + 1, z(far + 7, far + 1)},
                                {far + 2, far + 5, z(far + 2, far + 5)}});
  REQUIRE(plane);
  CHECK_THAT(plane->at(far + 3.3, far + 9), WithinAbs(z(far + 3.3, far + 9), 1e-9));
  CHECK_THAT(plane->slope_x, WithinAbs(-0.02, 1e-10));
  CHECK_THAT(plane->slope_y, WithinAbs(0.01, 1e-10));
}

TEST_CASE("more shots are fitted by least squares, weights respected", "[plane]") {
  // Corners of a square, one lifted by 4: the fit is 1 up in the middle, by symmetry.
  const std::vector<Point3> corners = {{0, 0, 0}, {2, 0, 0}, {2, 2, 4}, {0, 2, 0}};
  const auto plane = fit_plane(corners);
  REQUIRE(plane);
  CHECK_THAT(plane->at(1, 1), WithinAbs(1, 1e-12));
  CHECK_THAT(plane->at(2, 2), WithinAbs(3, 1e-12));
  const auto without = fit_plane(corners, {1, 1, 0, 1});
  REQUIRE(without);
  CHECK_THAT(without->at(2, 2), WithinAbs(0, 1e-12));
}

TEST_CASE("shots on one line span no plane", "[plane]") {
  CHECK_FALSE(fit_plane({{0, 0, 1}, {1, 2, 1}, {2, 4, 5}}));
  CHECK_FALSE(fit_plane({{0, 0, 1}, {1, 2, 1}}));
  CHECK_FALSE(fit_plane({{1, 1, 1}, {1, 1, 1}, {1, 1, 1}}));
}

TEST_CASE("points and weights that are no numbers fit no plane", "[plane]") {
  const std::vector<Point3> points = {{0, 0, 1}, {1, 0, 2}, {0, 1, 3}, {1, 1, 4}};
  for (const double bad : {std::nan(""), std::numeric_limits<double>::infinity()}) {
    std::vector<Point3> spoilt = points;
    spoilt[3].z = bad;
    CHECK_FALSE(fit_plane(spoilt));
    spoilt = points;
    spoilt[0].x = bad;
    CHECK_FALSE(fit_plane(spoilt));
    CHECK_FALSE(fit_plane(points, {1, 1, 1, bad}));
  }
  CHECK_FALSE(fit_plane(points, {0, 0, 0, 0}));
  CHECK_THROWS_AS(fit_plane(points, {1, 1}), std::invalid_argument);
}
