#include <lowspot/perched/laws.hpp>

#include <limits>
#include <random>

#include "catch.hpp"

using namespace lowspot::perched;

TEST_CASE("Face flow draws nothing from an empty side, never runs uphill, and is antisymmetric") {
  std::mt19937 generator(7);
  std::uniform_real_distribution<double> unit(0, 1);
  for (int trial = 0; trial < 2000; ++trial) {
    const double here = trial % 5 == 0 ? 0 : unit(generator), there = trial % 7 == 0 ? 0 : unit(generator);
    const double drop = (trial % 3 == 0 ? 0.05 : 2.0) * (unit(generator) - 0.5);
    const FaceFlow face = face_flow(here, there, drop);
    if (here == 0) CHECK(face.flow <= 0);
    if (there == 0) CHECK(face.flow >= 0);
    CHECK(face.flow * (drop + here - there) >= -1e-16);
    CHECK(face.slope_here >= 0);
    CHECK(face.slope_there >= 0);
    CHECK_THAT(face_flow(there, here, -drop).flow, WithinAbs(-face.flow, 1e-15));
    const double d = 1e-7; // slopes against differences, off the bend
    if (std::abs(std::min(here, there) - std::abs(drop)) > 1e-3 && here > d && there > d) {
      CHECK_THAT((face_flow(here + d, there, drop).flow - face_flow(here - d, there, drop).flow) / (2 * d),
                 WithinAbs(face.slope_here, 1e-6));
      CHECK_THAT((face_flow(here, there - d, drop).flow - face_flow(here, there + d, drop).flow) / (2 * d),
                 WithinAbs(face.slope_there, 1e-6));
    }
  }
}

TEST_CASE("Face flow on a level base is the Dupuit difference of squares") {
  CHECK_THAT(face_flow(0.5, 0.3, 0).flow, WithinRel((0.25 - 0.09) / 2, 1e-14));
}

TEST_CASE("Face flow is continuous where the lower side just holds the drop") {
  CHECK_THAT(face_flow(0.4, 0.2 - 1e-12, 0.2).flow, WithinAbs(face_flow(0.4, 0.2, 0.2).flow, 1e-12));
}

TEST_CASE("Leakage closures") {
  // A soil of no resistance: the tight layer alone.
  const Leakage free_draining = leakage_law({1e9, 0.4, 2e-8, 0.5}, 0.1, 100);
  CHECK_THAT(free_draining.constant + 0.4 * free_draining.slope,
             WithinRel(100 * 2e-8 * (0.4 + 0.5 + 0.1) / 0.5, 1e-14));
  const double endless = std::numeric_limits<double>::infinity();
  const Leakage unit_gradient = leakage_law({1e-5, 0.4, 2e-8, endless}, 0.1, 100);
  CHECK_THAT(unit_gradient.constant, WithinRel(100 * 2e-8, 1e-14));
  CHECK(unit_gradient.slope == 0);
}

TEST_CASE("Leakage passes the soil and the tight layer in series") {
  // 0.4 m of soil at 1e-7 m/s resist 4e6 s, 0.1 m of tight layer at 5e-8 m/s 2e6 s.
  const Leakage both = leakage_law({1e-7, 0.4, 5e-8, 0.1}, 0.05, 100);
  CHECK_THAT(both.constant + 0.4 * both.slope, WithinRel(100 * (0.4 + 0.1 + 0.05) / 6e6, 1e-14));
  CHECK(leakage_law({0, 0.4, 5e-8, 0.1}, 0, 100).constant == 0); // soil that passes nothing
  CHECK(leakage_law({0, 0, 0, 0.1}, 0, 100).slope == 0);
}

TEST_CASE("A layer that lets more through than the soil brings does not draw") {
  const double endless = std::numeric_limits<double>::infinity();
  for (const double thickness : {0.1, endless}) {
    const Leakage dry = leakage_law({1e-7, 0.4, 1e-5, thickness}, 0, 100);
    CHECK_THAT(dry.constant, WithinRel(100 * 1e-7, 1e-14)); // unit gradient in the soil
    CHECK(dry.slope == 0);
    const Leakage pond = leakage_law({1e-7, 0.4, 1e-5, thickness}, 0.2, 100);
    CHECK_THAT(pond.constant, WithinRel(100 * 1e-7 * 1.5, 1e-14)); // (0.4 + 0.2) / 0.4
  }
  // Where the pond keeps the layer full, both resist: 0.4 m at 1e-7 and 1 m at 1.25e-7, 4e6 + 8e6 s.
  const Leakage full = leakage_law({1e-7, 0.4, 1.25e-7, 1}, 1, 100);
  CHECK_THAT(full.constant, WithinRel(100 * 2.4 / 12e6, 1e-14));
}

TEST_CASE("Wall potential is the integral of the pressure head") {
  CHECK(wall_potential(-0.3, 0.5) == 0);
  CHECK_THAT(wall_potential(0.4, 0.5), WithinRel(0.08, 1e-14));
  CHECK_THAT(wall_potential(0.9, 0.5), WithinRel(0.5 * 0.65, 1e-14)); // mean head 0.65 m over 0.5 m
}
