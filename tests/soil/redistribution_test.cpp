#include "catch.hpp"
#include "soils.hpp"

#include <cmath>

#include <lowspot/soil/moisture.hpp>
#include <lowspot/soil/redistribution.hpp>

using namespace lowspot::soil;
using namespace soils;

namespace {
constexpr double far = 100;

// The content after `dt` by classical Runge-Kutta with many equal steps, from the published functions.
double reference(const Parameters& soil, Block block, double supply, double dt, int steps) {
  const double h = dt / steps;
  const double start = block.water;
  auto slope = [&](double content, double time) {
    const double depth = (start + supply * time) / (content - block.background);
    const double drive = capillary_drive(soil, content, block.background);
    return (supply - conductivity_at(soil, content) - soil.conductivity * drive / depth) / depth;
  };
  double content = block.content;
  for (int i = 0; i < steps; ++i) {
    const double t = i * h;
    const double a = slope(content, t), b = slope(content + 0.5 * h * a, t + 0.5 * h),
                 c = slope(content + 0.5 * h * b, t + 0.5 * h), d = slope(content + h * c, t + h);
    content += h * (a + 2 * b + 2 * c + d) / 6;
  }
  return content;
}
} // namespace

TEST_CASE("The drive of a full block over dry soil is the suction at the front") {
  const Parameters soil = sandy_loam();
  CHECK(capillary_drive(soil, soil.porosity, soil.residual) == soil.wetting_front_suction);
  CHECK(capillary_drive(soil, 0.2, 0.2) == 0);
}

TEST_CASE("A block keeps its water, and its content falls and follows a fine integration") {
  for (const Parameters& soil : {sandy_loam(), silt_loam(), clay(), sand()}) {
    Block block{soil.porosity, soil.field_capacity, 0.02};
    const double expected = reference(soil, block, 0, 4 * hour, 200000);
    const Block once = redistribute(soil, block, 0, 0, far, 4 * hour);
    CHECK(once.water == 0.02);
    CHECK_THAT(once.content - soil.field_capacity, WithinRel(expected - soil.field_capacity, 2e-3));
    double previous = block.content;
    for (int i = 0; i < 240; ++i) {
      block = redistribute(soil, block, 0, 0, far, 60);
      CHECK(block.content < previous);
      previous = block.content;
    }
    CHECK_THAT(block.content - soil.field_capacity, WithinRel(expected - soil.field_capacity, 2e-3));
  }
}

TEST_CASE("Under a supply one step of any length follows a fine integration") {
  // A burst over dry soil, then less rain: on its way down the content passes the balance that it comes back
  // to when there is more water.
  for (Parameters soil : {sandy_loam(), silt_loam(), clay(), sand()}) {
    for (const double water : {0.002, 0.02})
      for (const double share : {0.05, 0.25, 0.6})
        for (const double dt : {300.0, 1200.0, 1800.0, 3600.0, 7200.0, 21600.0}) {
          const double background = 0.6 * soil.residual + 0.4 * soil.field_capacity;
          const double supply = share * soil.conductivity;
          const Block start{soil.porosity, background, water};
          const double expected = reference(soil, start, supply, dt, 100000);
          const Block once = redistribute(soil, start, supply, 0, far, dt);
          INFO(soil.conductivity << " m/s, " << water << " m, " << share << ", " << dt << " s");
          CHECK_THAT(once.content - background, WithinRel(expected - background, 2e-3));
        }
  }
}

TEST_CASE("The step rule is of second order") {
  // Steps of 60 s and less are shorter than the bound by the time scale here: the order seen is that of the
  // rule.
  const Parameters soil = sandy_loam();
  const Block start{0.40, 0.15, 0.05};
  for (double supply : {0.0, 0.9 * soil.conductivity}) {
    const double expected = reference(soil, start, supply, 600, 20000);
    double errors[3];
    for (int level = 0; level < 3; ++level) {
      const double dt = 60.0 / (1 << level);
      Block block = start;
      for (int i = 0; i < 10 << level; ++i) block = redistribute(soil, block, supply, 0, far, dt);
      errors[level] = std::abs(block.content - expected);
    }
    CHECK(std::log2(errors[0] / errors[1]) > 1.8);
    CHECK(std::log2(errors[1] / errors[2]) > 1.8);
  }
}

TEST_CASE("Under a steady drizzle the content settles where the soil passes the supply") {
  const Parameters soil = silt_loam();
  const double supply = 0.2 * soil.conductivity;
  Block block{soil.porosity, 0.2, 0.0};
  block = redistribute(soil, block, supply, 0, 1e9, 1e8);
  CHECK_THAT(block.water, WithinRel(supply * 1e8, 1e-12));
  CHECK_THAT(conductivity_at(soil, block.content), WithinRel(supply, 0.01));
}

TEST_CASE("What the soil below passes on is lost from the block, exactly") {
  const Parameters soil = sandy_loam();
  const double below = conductivity_at(soil, 0.15);
  const Block block = redistribute(soil, {soil.porosity, 0.15, 0.02}, 0, below, far, 24 * hour);
  CHECK_THAT(block.water, WithinAbs(0.02 - below * 24 * hour, 1e-15));
}

TEST_CASE("A block stops where it may go no deeper") {
  const Parameters soil = sandy_loam();
  const Block block = redistribute(soil, {soil.porosity, 0.15, 0.02}, 0, 0, 0.12, 24 * hour);
  CHECK(0.02 / (block.content - 0.15) >= 0.12);
  CHECK(0.02 / (block.content - 0.15) < 0.15);
}
