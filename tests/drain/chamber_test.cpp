#include <cmath>

#include <lowspot/drain/chamber.hpp>
#include <lowspot/drain/drain.hpp>

#include "books.hpp"
#include "catch.hpp"
#include "figures.hpp"

using namespace lowspot::drain;
using namespace lowspot::drain::testing;

namespace {

// A dry well 1 m across and 1.2 m deep in ground that takes 2e-5 m/s, fed by a tap.
Layout dry_well(double conductivity) {
  Layout layout;
  Outlet well;
  well.name = "well";
  well.kind = OutletKind::dry_well;
  const double plan = 3.14159265358979 / 4;
  well.chamber = {0.4 * plan, 98.8, 100, conductivity, plan, 3.14159265358979, 100};
  well.mouth = Mouth{100, 0.6, 0.02, 0, false, {{0, 0}}};
  layout.outlets = {well};
  Tap tap;
  tap.name = "spout";
  tap.to = "well";
  tap.mouth = {100.2, 0.3, 0.005, 0, false, {{1, 0}}};
  layout.taps = {tap};
  return layout;
}

double stand_after(double conductivity, double start, double time, double step) {
  Drain drain(dry_well(conductivity), level_ground);
  const double plan = 0.4 * 3.14159265358979 / 4;
  const std::vector<double> fill{plan * start / 1e-3};
  Inflows in;
  in.into_tap = fill;
  drain.advance(1e-3, in, {}); // as good as at once
  for (double t = 0; t < time - 1e-9; t += step) drain.advance(step, {}, {});
  return drain.outlet_level(0) - 98.8;
}

} // namespace

TEST_CASE("what a chamber soaks away follows bottom and wetted wall") {
  const Chamber chamber{0.3, 10, 11.5, 1e-5, 0.8, 3.2, 11};
  CHECK(soak_rate(chamber, 10).value == 0);
  CHECK_THAT(soak_rate(chamber, 10.5).value, WithinRel(1e-5 * (0.8 + 3.2 * 0.5), 1e-12));
  CHECK_THAT(soak_rate(chamber, 10.5).slope, WithinRel(1e-5 * 3.2, 1e-12));
  CHECK_THAT(soak_rate(chamber, 11.4).value, WithinRel(1e-5 * (0.8 + 3.2), 1e-12));
  CHECK(soak_rate(chamber, 11.4).slope == 0);
}

TEST_CASE("a dry well empties as the exact solution says") {
  // n A dh/dt = -K (A + P h): h + A/P falls as exp(-K P t / (n A)).
  const double k = 2e-5, plan = 3.14159265358979 / 4, perimeter = 3.14159265358979;
  for (double t : {600.0, 1800.0, 3600.0}) {
    const double exact =
        (1 + plan / perimeter) * std::exp(-k * perimeter * t / (0.4 * plan)) - plan / perimeter;
    const double coarse = stand_after(k, 1, t, 300), fine = stand_after(k, 1, t, 30);
    CHECK_THAT(coarse, WithinAbs(exact, 0.015));
    CHECK_THAT(fine, WithinAbs(exact, 0.0015)); // first order in the step
    figures::record("drain", "dry well that soaks away, steps of 30 s", "level after 10 to 60 min, m", exact,
                    fine, figures::amount(0.0015));
  }
}

TEST_CASE("a dry well empties at first order in the step") {
  const double k = 2e-5, plan = 3.14159265358979 / 4, perimeter = 3.14159265358979, t = 1800;
  const double exact =
      (1 + plan / perimeter) * std::exp(-k * perimeter * t / (0.4 * plan)) - plan / perimeter;
  std::vector<double> errors;
  for (const double step : {60.0, 30.0, 15.0}) errors.push_back(std::abs(stand_after(k, 1, t, step) - exact));
  CAPTURE(errors);
  CHECK(std::log2(errors[0] / errors[1]) > 0.9);
  CHECK(std::log2(errors[1] / errors[2]) > 0.9);
}

TEST_CASE("a full dry well overflows at its top, and every litre is found again") {
  Drain drain(dry_well(0), level_ground);
  const std::vector<double> flow{2e-3};
  Inflows in;
  in.into_tap = flow;
  double risen = 0, at_gutter = 0;
  for (int k = 0; k < 120; ++k) {
    const Outcome outcome = drain.advance(10, in, {});
    risen += outcome.from_mouth[0];
    at_gutter += outcome.from_mouth[1];
  }
  CHECK(drain.outlet_level(0) > 100);
  CHECK(drain.outlet_level(0) < 100.05);
  CHECK(at_gutter == 0);
  CHECK_THAT(drain.outlet_stored(0) + risen, WithinRel(2e-3 * 1200, 1e-12));
  // Steady: what comes in goes over the rim.
  CHECK_THAT(drain.advance(10, in, {}).from_mouth[0], WithinRel(0.02, 1e-6));
}

TEST_CASE("soaking and overflow share the water of a well without loss") {
  Drain drain(dry_well(3e-5), level_ground);
  double came = 0, gone = 0;
  for (int k = 0; k < 200; ++k) {
    const std::vector<double> flow{k < 80 ? 1.5e-3 * (k % 7) : 0.0};
    Inflows in;
    in.into_tap = flow;
    const double dt = 5 + 37 * (k % 5);
    const Outcome outcome = drain.advance(dt, in, {});
    came += flow[0] * dt;
    gone += outcome.to_depth + outcome.from_mouth[0] + outcome.from_mouth[1];
  }
  CHECK_THAT(came - gone - drain.stored(), WithinAbs(0, 1e-12 * came));
}
