#include "catch.hpp"

#include <cmath>

#include "reach_grounds.hpp"

using namespace reach_grounds;

TEST_CASE("on a plane steeper than the least fall the pipe keeps its cover, and margin is fall less need") {
  const ReachGround plane = ground(10, 60, [](double, double y) { return 10 + 0.05 * y; });
  const Polyline way = {{2.25, 25.25}, {2.25, 0.25}};
  const double start = 10 + 0.05 * 25.25 - 0.25, level = 10 + 0.05 * 0.25;
  const auto profile = lay_pipe(plane, way, start, level, rules());
  REQUIRE(profile);
  CHECK_THAT(profile->length, WithinAbs(25, 1e-12));
  CHECK_THAT(profile->fall_available, WithinAbs(0.05 * 25 - 0.25, 1e-12));
  // Parallel to the ground up to the run-out of 2 m: there the ground lies 0.05 * 2 above the outlet.
  CHECK_THAT(profile->margin, WithinAbs(0.05 * 2 - 0.25 - 0.01 * 2, 1e-12));
  auto longer = rules();
  longer.run_out = 100;
  const auto free = lay_pipe(plane, way, start, level, longer);
  CHECK_THAT(free->margin, WithinAbs(0.05 * 25 - 0.25 - 0.01 * 25, 1e-12));
  CHECK_THAT(free->invert.back(), WithinAbs(level, 1e-12));
  CHECK_THAT(free->deepest_cut, WithinAbs(0.25, 1e-12));
  // Cut 0.25 at the head and nothing at the outlet: half a prism, and less than the cover all the way.
  CHECK_THAT(free->excavation, WithinAbs(0.5 * 0.25 * 25 * 0.3, 1e-12));
  CHECK_THAT(free->shallow_end, WithinAbs(24.5, 1e-9));
}

TEST_CASE("under a ridge the pipe falls at the least fall; a dip presses it down and costs margin") {
  const ReachGround ridge = ground(
      5, 60, [](double, double y) { return 10 + (y > 10 && y < 12 ? 0.6 : 0.0) - (y < 2 ? 0.9 : 0.0); });
  const Polyline way = {{1.25, 20.25}, {1.25, 0.25}};
  const auto profile = lay_pipe(ridge, way, 9.75, 9.1, rules());
  CHECK_THAT(profile->margin, WithinAbs(9.75 - 0.01 * 20 - 9.1, 1e-9));
  CHECK_THAT(profile->deepest_cut, WithinAbs(10.6 - (9.75 - 0.01 * (20.25 - 10.25)), 1e-9));
  CHECK(profile->shallow_end > 0);
  const ReachGround dip = ground(
      5, 60, [](double, double y) { return 10 + (y > 10 && y < 12 ? -0.3 : 0.0) - (y < 2 ? 0.9 : 0.0); });
  const auto lowered = lay_pipe(dip, way, 9.75, 9.1, rules());
  // The dip begins at 11.75: from there on 11.5 m at least fall.
  CHECK_THAT(lowered->margin, WithinAbs(9.7 - 0.25 - 0.01 * 11.5 - 9.1, 1e-9));
  for (std::size_t k = 1; lowered->distance[k] <= 18; ++k) // after that it may come to daylight
    CHECK(lowered->invert[k - 1] - lowered->invert[k] >=
          0.01 * (lowered->distance[k] - lowered->distance[k - 1]) - 1e-12);
}

TEST_CASE("paving is dearer, though the trench is the same") {
  ReachGround plane = ground(10, 60, [](double, double y) { return 10 + 0.05 * y; });
  const Polyline way = {{2.25, 25.25}, {2.25, 0.25}};
  const auto lawn = lay_pipe(plane, way, 10, 10, rules());
  plane.dearness.assign(plane.grid.cells(), 4.0);
  const auto paved = lay_pipe(plane, way, 10, 10, rules());
  CHECK_THAT(paved->excavation, WithinAbs(lawn->excavation, 1e-12));
  CHECK_THAT(paved->cost, WithinAbs(4 * lawn->excavation, 1e-12));
}

TEST_CASE("lines stop at buildings, also where they touch a corner") {
  ReachGround yard = ground(10, 10, [](double, double) { return 1; });
  build_over(yard, 2, 2, 3, 3);
  CHECK_FALSE(line_is_open(yard, {0.25, 2.25}, {4.75, 2.25}));
  CHECK(line_is_open(yard, {0.25, 1.25}, {4.75, 1.25}));
  CHECK_FALSE(line_is_open(yard, {1.25, 2.25}, {2.25, 1.25}) == false);
  CHECK_FALSE(line_is_open(yard, {1.25, 2.75}, {2.75, 1.25})); // through the corner at 2, 2
  CHECK_FALSE(line_is_open(yard, {1.25, 1.25}, {9, 1.25}));    // off the grid
  CHECK_FALSE(lay_pipe(yard, {{0.25, 2.25}, {4.75, 2.25}}, 0.5, 0.5, rules()));
  CHECK(std::isnan(ground_at(yard, {2.25, 2.25})));
  CHECK(ground_at(yard, {1.9, 2.25}) == 1);
}
