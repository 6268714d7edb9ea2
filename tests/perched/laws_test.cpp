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
  const Leakage free_draining = leakage_law(2e-8, 0.5, 0.1, 100);
  CHECK_THAT(free_draining.constant + 0.4 * free_draining.slope,
             WithinRel(100 * 2e-8 * (0.4 + 0.5 + 0.1) / 0.5, 1e-14));
  const Leakage unit_gradient = leakage_law(2e-8, std::numeric_limits<double>::infinity(), 0.1, 100);
  CHECK_THAT(unit_gradient.constant, WithinRel(100 * 2e-8, 1e-14));
  CHECK(unit_gradient.slope == 0);
}

TEST_CASE("Wall potential is the integral of the pressure head") {
  CHECK(wall_potential(-0.3, 0.5) == 0);
  CHECK_THAT(wall_potential(0.4, 0.5), WithinRel(0.08, 1e-14));
  CHECK_THAT(wall_potential(0.9, 0.5), WithinRel(0.5 * 0.65, 1e-14)); // mean head 0.65 m over 0.5 m
}
