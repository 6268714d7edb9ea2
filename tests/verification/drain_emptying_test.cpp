// Storage that empties and fills: a trench over an orifice, and a trench through a full pipe.
#include <cmath>
#include <numbers>
#include <utility>
#include <vector>

#include <lowspot/drain/drain.hpp>
#include <lowspot/drain/orifice.hpp>

#include "catch.hpp"
#include "figures.hpp"

using namespace lowspot;
using namespace lowspot::drain;

namespace {

constexpr double pore_area = 0.38 * 0.40 * 15; // m2
constexpr double hole = std::numbers::pi / 4 * 0.025 * 0.025;

// One implicit Euler step of pore_area dh/dt = inflow - orifice, by Newton's method.
double step(double h, double inflow, double dt) {
  double next = h;
  for (int k = 0; k < 50; ++k) {
    double slope = 0;
    const double q = orifice_flow(0.61, hole, next, slope);
    const double misfit = pore_area * (next - h) - dt * (inflow - q);
    next -= misfit / (pore_area + dt * slope);
  }
  return next;
}

} // namespace

TEST_CASE("a trench empties through an orifice along a parabola") {
  double slope = 0;
  CHECK_THAT(orifice_flow(0.61, hole, 0.45, slope), WithinRel(0.889724e-3, 1e-6));
  double h = 0.45;
  for (int t = 1; t <= 1800; ++t) {
    h = step(h, 0, 1);
    if (t == 600) {
      CHECK_THAT(h, WithinRel(0.246318, 0.005));
      figures::record("drain", "trench empties through an orifice", "level, m", 0.246318, h,
                      figures::share(0.005));
    }
    if (t == 1200) {
      CHECK_THAT(h, WithinRel(0.103548, 0.005));
      figures::record("drain", "trench empties through an orifice", "level, m", 0.103548, h,
                      figures::share(0.005));
    }
    if (t == 1800) {
      CHECK_THAT(h, WithinRel(0.021689, 0.01));
      figures::record("drain", "trench empties through an orifice", "level, m", 0.021689, h,
                      figures::share(0.01));
    }
  }
}

TEST_CASE("the orifice integrated at half the step is twice as near") {
  const auto error = [](double dt) {
    double h = 0.45;
    for (int k = 0; k < static_cast<int>(1200 / dt + 0.5); ++k) h = step(h, 0, dt);
    return std::abs(h - 0.103548);
  };
  const double order = std::log2(error(40) / error(20));
  CHECK(order > 0.85);
  figures::record("drain", "trench empties through an orifice", "order in the step", order,
                  figures::at_least(0.85));
}

TEST_CASE("a trench fills towards the level its orifice holds") {
  const double level = 0.0227385;
  const std::vector<std::pair<double, double>> marks = {
      {0.25, 100.135}, {0.5, 270.023}, {0.75, 593.134}, {0.9, 1047.791}};
  double h = 0, before = 0, t = 0;
  for (const auto& [share, exact] : marks) {
    while (h < share * level) {
      before = h;
      h = step(h, 0.2e-3, 0.5);
      t += 0.5;
    }
    const double reached = t - 0.5 * (h - share * level) / (h - before);
    CHECK_THAT(reached, WithinRel(exact, 0.005));
    figures::record("drain", "trench fills over an orifice", "time to a level, s", exact, reached,
                    figures::share(0.005));
  }
}

TEST_CASE("a trench empties through a full pipe") {
  // 0.4 x 25 m of plan in one short, wide station with a wide pipe, so that nothing is lost on the way to the
  // carrier, the speed of what comes in through the openings included; the crown of the carrier at the level
  // from which h counts, its outlet held at the crown 0.20 m lower.
  Layout layout;
  Run trench;
  trench.name = "trench";
  trench.path = {{0, 0}, {0.01, 0}};
  trench.inverts = {-0.1, -0.1};
  trench.pipe = {0.4, 0.001, 500, 0.61};
  const double pot = 0.25 * std::numbers::pi / 4 * 0.4 * 0.4; // of the joint, in place of some stone
  trench.trench_width = (10 - pot / 0.38) / 0.01;
  trench.stone = {0.38, 1, 0};
  trench.cap = {1e-9, 0.1};
  trench.to = "joint";
  Run carrier;
  carrier.name = "carrier";
  carrier.path = {{0.01, 0}, {20.01, 0}};
  carrier.inverts = {-0.1, -0.3};
  carrier.pipe = {0.1, 0.012, 0, 0.61};
  carrier.has_trench = false;
  carrier.from = "joint";
  carrier.to = "end";
  layout.runs = {trench, carrier};
  layout.fittings = {{"joint", {0.01, 0}}};
  layout.outlets = {{"end", OutletKind::submerged, {20.01, 0}}};
  layout.outlets[0].level = -0.2;
  layout.station_spacing = 1;
  Drain drain(layout, [](Point) { return 3.0; });
  const std::size_t n = drain.stations().size();
  const std::vector<double> none(n, 0.0);
  std::vector<double> fill(n, 0.0);
  fill[0] = 0.38 * 10 * 0.75; // enough to fill the carrier before 0.5 m is passed
  drain.advance(1, {fill, none, none}, none);
  double h = drain.stone_level()[0], before = h, t = 0, start = -1, stop = -1;
  while (stop < 0 && t < 600) {
    drain.advance(0.5, {none, none, none}, none);
    before = h;
    h = drain.stone_level()[0];
    t += 0.5;
    const auto crossed = [&](double level) { return t - 0.5 * (level - h) / (before - h); };
    if (start < 0 && h <= 0.5) {
      start = crossed(0.5);
      CHECK_THAT(drain.outlet_flow(0), WithinRel(10.468939e-3, 0.005));
      figures::record("drain", "trench empties through a full pipe", "flow, L/s", (10.468939e-3) * 1e3,
                      (drain.outlet_flow(0)) * 1e3, figures::share(0.005));
    }
    if (h <= 0.1) {
      stop = crossed(0.1);
      CHECK_THAT(drain.outlet_flow(0), WithinRel(6.853529e-3, 0.005));
      figures::record("drain", "trench empties through a full pipe", "flow, L/s", (6.853529e-3) * 1e3,
                      (drain.outlet_flow(0)) * 1e3, figures::share(0.005));
    }
  }
  CHECK_THAT(stop - start, WithinRel(175.4946, 0.005));
  figures::record("drain", "trench empties through a full pipe", "time from 0.5 to 0.1 m, s", 175.4946,
                  stop - start, figures::share(0.005));
}
