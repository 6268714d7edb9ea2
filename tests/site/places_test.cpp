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

TEST_CASE("a line that crosses a cut in the yard leaves it, however narrow the cut") {
  for (const double width : {3.0, 0.3, 0.02, 1e-4})
    for (const double turn : {0.0, 0.5, 2.0}) {
      // 100 m square with a cut from the north, half way down.
      const auto turned = [&](double x, double y) {
        return Point{x * std::cos(turn) - y * std::sin(turn), x * std::sin(turn) + y * std::cos(turn)};
      };
      const Polygon cut = {turned(0, 0),
                           turned(100, 0),
                           turned(100, 100),
                           turned(50.7 + width, 100),
                           turned(50.7 + width, 50),
                           turned(50.7, 50),
                           turned(50.7, 100),
                           turned(0, 100)};
      CAPTURE(width, turn);
      CHECK_FALSE(stays_inside(cut, {turned(1, 60), turned(99, 60)}));
      CHECK_FALSE(stays_inside(cut, {turned(0, 100), turned(100, 100)})); // along the limit, over its mouth
      CHECK(stays_inside(cut, {turned(1, 50), turned(99, 50)}));          // along its bottom
      CHECK(stays_inside(cut, {turned(1, 40), turned(99, 40)}));
      CHECK(stays_inside(cut, {turned(0, 0), turned(100, 0), turned(100, 100), turned(60, 100)}));
      CHECK(stays_inside(cut, {turned(50.7, 100), turned(50.7, 20)})); // down its side and on
    }
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
