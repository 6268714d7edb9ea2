#include <cmath>

#include <lowspot/drain/mouth.hpp>

#include "catch.hpp"

using namespace lowspot::drain;

TEST_CASE("a grate is a weir in shallow water and an orifice in deep water") {
  double slope = 0;
  // 0.3 m square, half of it clear: rim 1.2 m, area 0.045 m2.
  CHECK_THAT(mouth_flow(1.2, 0.045, 0.01, slope), WithinRel(1.66 * 1.2 * std::pow(0.01, 1.5), 1e-12));
  CHECK_THAT(slope, WithinRel(1.5 * 1.66 * 1.2 * std::sqrt(0.01), 1e-12));
  CHECK_THAT(mouth_flow(1.2, 0.045, 0.2, slope), WithinRel(0.67 * 0.045 * std::sqrt(2 * 9.81 * 0.2), 1e-12));
  CHECK(mouth_flow(1.2, 0.045, 0, slope) == 0);
  CHECK(mouth_flow(1.2, 0.045, -0.1, slope) == 0);
  CHECK(slope == 0);
  // Both laws give the same where they cross: 1.66 P d = 0.67 A sqrt(2 g).
  const double cross = 0.67 * 0.045 * std::sqrt(2 * 9.81) / (1.66 * 1.2);
  CHECK_THAT(mouth_flow(1.2, 0.045, cross * (1 - 1e-9), slope),
             WithinRel(mouth_flow(1.2, 0.045, cross * (1 + 1e-9), slope), 1e-7));
}

TEST_CASE("the depth over a mouth balances what arrives") {
  Mouth mouth;
  mouth.rim = 1.2, mouth.area = 0.045;
  // Long steps reach the steady depth, at which the mouth takes what arrives: 1 L/s on 1 m2.
  double slope = 0;
  const double deep = depth_over_mouth(mouth, 0, 1e-3, -1, 1, 1e6);
  CHECK_THAT(mouth_flow(mouth.rim, mouth.area, deep, slope), WithinRel(1e-3, 1e-4));
  // A short step leaves the depth where it was, a dry one stays dry.
  CHECK_THAT(depth_over_mouth(mouth, 0.03, 0, -1, 1, 1e-4), WithinRel(0.03, 1e-3));
  CHECK(depth_over_mouth(mouth, 0, 0, -1, 1, 10) < 1e-8);
  // Water that stands as high below takes nothing.
  CHECK_THAT(depth_over_mouth(mouth, 0.03, 0, 0.03, 1, 100), WithinAbs(0.03, 1e-8));
}

TEST_CASE(
    "a mouth takes in what runs onto its grate first, and no more than its law gives at the depth left") {
  Mouth mouth;
  mouth.rim = 1.2, mouth.area = 0.045, mouth.level = 50, mouth.takes_in = true;
  MouthWater water{0, 0.5, 50, 0.03, 4e-3, 0, 0.5};
  double slope = 0;
  // Half of the mouth, long and short steps: all that arrives, and the law at the depth there is.
  CHECK_THAT(mouth_intake(mouth, water, 49, 1e6).value, WithinRel(4e-3, 1e-6));
  CHECK_THAT(mouth_intake(mouth, water, 49, 1e-6).value,
             WithinRel(mouth_flow(0.6, 0.0225, 0.03, slope), 1e-4));
  CHECK_THAT(mouth_intake(mouth, water, 50.02, 1e-6).value,
             WithinRel(mouth_flow(0.6, 0.0225, 0.01, slope), 1e-4));
  CHECK(mouth_intake(mouth, water, 50.3, 2).value == 0);
  water.depth = 0;
  water.frontal = 3e-3;
  CHECK_THAT(mouth_intake(mouth, water, 49, 1e-6).value, WithinRel(3e-3, 1e-6));
  water.frontal = water.arriving = 0.1; // the orifice under 5 mm
  CHECK_THAT(mouth_intake(mouth, water, 49, 1e-6).value,
             WithinRel(0.67 * 0.0225 * std::sqrt(2 * 9.81 * 5e-3), 1e-3));
}

TEST_CASE("the slope of what a mouth takes in is that in the level below") {
  Mouth mouth;
  mouth.rim = 1.2, mouth.area = 0.045, mouth.level = 50, mouth.takes_in = true;
  constexpr double step = 1e-7;
  for (const double frontal : {0.0, 2e-3, 0.02})
    for (const double dt : {0.5, 10.0})
      for (const double below : {49.9, 50.01, 50.05, 50.11, 50.2}) {
        const MouthWater water{0, 0.8, 50, 0.12, 0.05, frontal, 0.5};
        CAPTURE(frontal, dt, below);
        const double change = mouth_intake(mouth, water, below + step, dt).value -
                              mouth_intake(mouth, water, below - step, dt).value;
        CHECK_THAT(mouth_intake(mouth, water, below, dt).slope, WithinAbs(change / (2 * step), 1e-6));
      }
}
