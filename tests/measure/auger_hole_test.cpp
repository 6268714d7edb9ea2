#include "catch.hpp"
#include "figures.hpp"

#include <cmath>
#include <initializer_list>

#include <lowspot/measure/auger_hole.hpp>

using namespace lowspot::measure;

namespace {
constexpr double inch = 0.0254;

// The level after `time` by the classical Runge-Kutta rule, from the relation as printed and not from our
// code.
double fallen(double radius, double sorptive, double conductivity, double from, double time) {
  const auto rate = [&](double depth) {
    const double ratio = depth / radius;
    const double shape = std::pow(ratio / (2.074 + 0.093 * ratio), 0.754);
    const double pull = 2 * depth * depth + shape * radius * radius + 2 * depth / sorptive;
    return -conductivity * pull / (shape * radius * radius);
  };
  const int steps = 2000;
  const double h = time / steps;
  double depth = from;
  for (int k = 0; k < steps; ++k) {
    const double a = rate(depth), b = rate(depth + 0.5 * h * a), c = rate(depth + 0.5 * h * b),
                 d = rate(depth + h * c);
    depth += h * (a + 2 * b + 2 * c + d) / 6;
  }
  return depth;
}
} // namespace

TEST_CASE("Raw rates overstate conductivity as the relation gives: 6-inch and 12-inch holes") {
  // 6 in of water in a 6-inch hole, alpha* 12 /m, by hand: C = (2 / 2.26)^0.754 = 0.91194.
  CHECK_THAT(shape_factor(2, 12), WithinAbs(0.91194, 1e-4));
  figures::record("measure", "6 in of water in a 6-inch hole, by hand", "shape factor C", 0.91194,
                  shape_factor(2, 12), figures::amount(1e-4));
  CHECK_THAT(overstatement({3 * inch, 12}, 6 * inch),
             WithinRel(1 + 8 / 0.91194 + 4 / (12 * 0.0762 * 0.91194), 1e-4));
  figures::record("measure", "6 in of water in a 6-inch hole, by hand", "raw rate over conductivity",
                  1 + 8 / 0.91194 + 4 / (12 * 0.0762 * 0.91194), overstatement({3 * inch, 12}, 6 * inch),
                  figures::share(1e-4));
  for (double width : {6.0, 12.0})
    for (double depth : {6.0, 12.0}) {
      std::vector<std::string> cells{std::to_string(std::lround(width)) + " in wide, " +
                                     std::to_string(std::lround(depth)) + " in deep"};
      for (double sorptive : {36.0, 12.0, 4.0}) {
        char text[32];
        std::snprintf(text, sizeof text, "%.2g", overstatement({0.5 * width * inch, sorptive}, depth * inch));
        cells.emplace_back(text);
      }
      figures::row("measure", "overstatement", cells);
    }
  // 6 to 12 in of water, soil coarse to fine.
  for (double sorptive : {4.0, 12.0, 36.0})
    for (double depth : {6.0, 12.0}) {
      const double small = overstatement({3 * inch, sorptive}, depth * inch);
      const double wide = overstatement({6 * inch, sorptive}, depth * inch);
      CHECK(small > 10);
      CHECK(small < 42);
      CHECK(wide > 5);
      CHECK(wide < 18);
      CHECK(small > wide);
    }
}

TEST_CASE("The parts of the pull add up, and shrink to gravity in a hole without water") {
  const AugerHole hole{0.1, 8};
  const Pull pull = pull_on(hole, 0.2);
  CHECK_THAT(pull.sum(), WithinRel(overstatement(hole, 0.2), 1e-15));
  CHECK_THAT(pull.wall / pull.suction, WithinRel(0.2 * 8, 1e-12)); // 2 H^2 : 2 H / alpha*
  CHECK(overstatement(hole, 0) == 1);
  CHECK_THAT(overstatement(hole, 1e-12), WithinAbs(1, 1e-2));
}

TEST_CASE("The shape factor runs evenly between its three fits, near that of Glover for deep water") {
  CHECK_THAT(shape_factor(3, 4), WithinRel(std::pow(3 / (1.992 + 0.273), 0.683), 1e-12));
  CHECK_THAT(shape_factor(3, 1), WithinRel(std::pow(3 / (2.081 + 0.363), 0.672), 1e-12));
  CHECK(shape_factor(3, 0.1) == shape_factor(3, 1));
  CHECK(shape_factor(3, 50) == shape_factor(3, 12));
  for (double sorptive = 1; sorptive < 12; sorptive *= 1.1)
    CHECK(std::abs(shape_factor(3, sorptive * 1.1) - shape_factor(3, sorptive)) < 0.02);
  // Without suction the flow out of a deep hole is the same problem; both are approximate.
  for (double ratio : {5.0, 8.0, 10.0})
    CHECK_THAT(shape_factor(ratio, 12) / shape_factor_by_glover(ratio), WithinAbs(1, 0.25));
}

TEST_CASE("Time to fall agrees with stepping the relation itself") {
  for (double radius : {0.03, 0.0762, 0.1524}) {
    const AugerHole hole{radius, 12};
    const double conductivity = 2e-6, from = 0.3;
    for (double time : {60.0, 600.0, 1500.0}) {
      const double to = fallen(radius, 12, conductivity, from, time);
      if (!(to > 0.02)) continue;
      CHECK_THAT(conductivity_time(hole, from, to), WithinRel(conductivity * time, 1e-8));
      CHECK_THAT(level_after(hole, from, conductivity * time), WithinAbs(to, 1e-9));
      figures::record("measure", "falling level (Runge and Kutta)", "level, m", to,
                      level_after(hole, from, conductivity * time), figures::amount(1e-9));
    }
  }
  const AugerHole hole{0.05, 12};
  CHECK(level_after(hole, 0.2, 1) == 0);
  CHECK(conductivity_time(hole, 0.2, 0.2) == 0);
  const double whole = conductivity_time(hole, 0.2, 0);
  CHECK_THAT(conductivity_time(hole, 0.2, 0.05) + conductivity_time(hole, 0.05, 0), WithinRel(whole, 1e-6));
}

TEST_CASE("Dry soil takes more at first, and less and less as the wetted bulb grows") {
  const AugerHole hole{0.0762, 12};
  CHECK(wetting_excess(hole, 0.15, 0, 0.2) == 20);
  double previous = 20;
  for (double litres : {0.5, 2.0, 10.0, 100.0, 1e5}) {
    const double excess = wetting_excess(hole, 0.15, litres * 1e-3, 0.2);
    CHECK(excess < previous);
    CHECK(excess > 1);
    CHECK(excess < wetting_excess(hole, 0.15, litres * 1e-3, 0.3)); // drier soil, smaller bulb
    previous = excess;
  }
  CHECK_THAT(previous, WithinAbs(1, 0.03));
  // A sphere of eight times the volume has twice the radius: excess 2.
  const double inner = 0.5 * std::sqrt(0.0762 * 0.0762 + 2 * 0.0762 * 0.15);
  const double volume = 7 * 4.0 / 3 * 3.14159265358979 * inner * inner * inner * 0.2;
  CHECK_THAT(wetting_excess(hole, 0.15, volume, 0.2), WithinRel(2, 1e-9));
}
