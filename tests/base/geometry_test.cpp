#include "catch.hpp"

#include <cmath>

#include <lowspot/base/geometry.hpp>

using namespace lowspot;

namespace {
const Polygon ell{{0, 0}, {4, 0}, {4, 1}, {1, 1}, {1, 3}, {0, 3}}; // area 6, anticlockwise
Polygon moved(Polygon polygon, double dx, double dy) {
  for (Point& p : polygon) p = {p.x + dx, p.y + dy};
  return polygon;
}
} // namespace

TEST_CASE("Lengths and places along a line") {
  const Polyline line{{0, 0}, {3, 4}, {3, 4}, {3, 10}};
  CHECK(length(line) == 11);
  CHECK(point_along(line, 2.5).x == Approx(1.5));
  CHECK(point_along(line, 7).y == Approx(6));
  CHECK(point_along(line, -1).x == 0);
  CHECK(point_along(line, 99).y == 10);
  double along = 0;
  CHECK(distance_to(line, {5, 7}, &along) == Approx(2));
  CHECK(along == Approx(8));
  CHECK(distance_to(line, {0, -2}, &along) == Approx(2));
  CHECK(along == 0);
  CHECK(distance_to(line, {3, 12}, &along) == Approx(2));
  CHECK(along == Approx(11));
}

TEST_CASE("Area, its sign and the centroid, also far from the origin") {
  CHECK(area(ell) == 6);
  CHECK(signed_area(ell) == 6);
  CHECK(signed_area(Polygon(ell.rbegin(), ell.rend())) == -6);
  // Moments by hand: the 4 x 1 foot at (2, 0.5) and the 1 x 2 stem at (0.5, 2).
  CHECK(centroid(ell).x == Approx(9 / 6.));
  CHECK(centroid(ell).y == Approx(6 / 6.));
  const Polygon far = moved(ell, 5e6, 6e5);
  CHECK(area(far) == Approx(6).epsilon(1e-9));
  CHECK(centroid(far).x == Approx(5e6 + 1.5).epsilon(1e-12));
  CHECK(area({}) == 0);
}

TEST_CASE("Inside an outline with a re-entrant corner") {
  CHECK(contains(ell, {0.5, 2.5}));
  CHECK(contains(ell, {3.5, 0.5}));
  CHECK_FALSE(contains(ell, {2, 2}));
  CHECK_FALSE(contains(ell, {-0.1, 1}));
  CHECK_FALSE(contains({}, {0, 0}));
  CHECK(bounds(ell).high.x == 4);
  CHECK(bounds(ell).low.y == 0);
}

TEST_CASE("Outlines that cannot be used are told from those that can") {
  CHECK(why_not_simple(ell) == "");
  CHECK(why_not_simple(Polygon(ell.rbegin(), ell.rend())) == "");
  CHECK_THAT(why_not_simple({{0, 0}, {1, 1}}), ContainsSubstring("three corners"));
  CHECK_THAT(why_not_simple({{0, 0}, {2, 2}, {2, 0}, {0, 3}}), ContainsSubstring("cross"));
  CHECK_THAT(why_not_simple({{0, 0}, {1, 1}, {2, 2}}), ContainsSubstring("no area"));
  CHECK_THAT(why_not_simple({{0, 0}, {4, 0}, {4, 4}, {2, 4}, {2, 6}, {2, 4}, {0, 4}}),
             ContainsSubstring("spike"));
  CHECK_THAT(why_not_simple({{0, 0}, {1, NAN}, {2, 2}}), ContainsSubstring("finite"));
}

TEST_CASE("Overlap with the cells of a grid adds up to the area, turned or not") {
  for (double angle : {0.0, 0.3, 1.1}) {
    Polygon turned;
    for (const Point& p : ell)
      turned.push_back(
          {p.x * std::cos(angle) - p.y * std::sin(angle), p.x * std::sin(angle) + p.y * std::cos(angle)});
    double sum = 0;
    for (int i = -20; i < 30; ++i)
      for (int j = -20; j < 30; ++j)
        sum += overlap_area(turned, {{i * 0.37, j * 0.37}, {(i + 1) * 0.37, (j + 1) * 0.37}});
    CHECK(sum == Approx(6).epsilon(1e-12));
  }
  CHECK(overlap_area(ell, {{0.5, 0.5}, {1.5, 1.5}}) ==
        Approx(0.75)); // all but the quarter in the re-entrant corner
  CHECK(overlap_area(ell, {{2, 2}, {3, 3}}) == 0);
}

TEST_CASE("what of a polygon lies in a rectangle has the middle of that part") {
  const Polygon triangle{{0, 0}, {2, 0}, {0, 2}};
  // Of the unit square at its right angle nothing is cut off; of the one beside it the triangle to the
  // south-west.
  CHECK(area(cut_to(triangle, {{0, 0}, {1, 1}})) == 1);
  const Polygon half = cut_to(triangle, {{1, 0}, {2, 1}});
  CHECK_THAT(area(half), WithinRel(0.5, 1e-12));
  CHECK_THAT(centroid(half).x, WithinRel(4.0 / 3, 1e-12));
  CHECK_THAT(centroid(half).y, WithinRel(1.0 / 3, 1e-12));
  CHECK(cut_to(triangle, {{3, 3}, {4, 4}}).size() < 3);
}
