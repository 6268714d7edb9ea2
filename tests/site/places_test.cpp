#include <lowspot/site/places.hpp>

#include "catch.hpp"

using namespace lowspot;
using namespace lowspot::site;

namespace {
const Polygon square = {{0, 0}, {10, 0}, {10, 10}, {0, 10}};
const Polygon bay = {{0, 0}, {10, 0}, {10, 10}, {6, 10},
                     {6, 4}, {4, 4},  {4, 10},  {0, 10}}; // a notch from the north
} // namespace

TEST_CASE("a point on the limit is inside, a hair beyond it is not") {
  CHECK(inside_or_on(square, {5, 5}));
  CHECK(inside_or_on(square, {10, 5}));
  CHECK(inside_or_on(square, {10 + 5e-7, 5}));
  CHECK_FALSE(inside_or_on(square, {10 + 1e-5, 5}));
}

TEST_CASE("a line may leave the yard between points that are inside") {
  CHECK(stays_inside(square, {{1, 1}, {9, 9}}));
  CHECK_FALSE(stays_inside(bay, {{1, 8}, {9, 8}}));
  CHECK(stays_inside(bay, {{1, 2}, {9, 2}}));
}

TEST_CASE("the area two shapes share is exact, whichever way round they run and wherever they lie") {
  const Polygon other = {{5, 5}, {5, 15}, {15, 15}, {15, 5}};
  CHECK(shared_area(square, other) == Approx(25));
  Polygon far_square = square, far_other = other;
  for (Point& p : far_square) p = {p.x + 5e5, p.y + 4e6};
  for (Point& p : far_other) p = {p.x + 5e5, p.y + 4e6};
  CHECK(shared_area(far_square, far_other) == Approx(25));
  CHECK(shared_area(square, {{20, 20}, {30, 20}, {30, 30}}) == 0);
  CHECK(shared_area(bay, {{0, 4}, {10, 4}, {10, 10}, {0, 10}}) == Approx(48));
}

TEST_CASE("shots in one line make no plane") {
  CHECK(in_one_line({{0, 0, 1}, {1, 1, 2}, {2, 2, 5}}));
  CHECK_FALSE(in_one_line({{0, 0, 1}, {1, 1, 2}, {2, 2.1, 5}}));
  CHECK(in_one_line({{3, 3, 1}, {3, 3, 2}, {3, 3, 5}}));
}
