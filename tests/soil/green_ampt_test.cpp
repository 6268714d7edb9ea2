#include "catch.hpp"
#include "soils.hpp"

#include <cmath>

#include <boost/math/special_functions/lambert_w.hpp>
#include <lowspot/soil/green_ampt.hpp>

using namespace lowspot::soil;
using namespace soils;

namespace {
// Constant head from a dry start: F = -B (1 + W_-1(-exp(-1 - K t / B))).
double by_lambert(double conductivity, double drive, double time) {
  return -drive * (1 + boost::math::lambert_wm1(-std::exp(-1 - conductivity * time / drive)));
}
} // namespace

TEST_CASE("Constant head from a fresh start equals the Lambert W solution") {
  const double conductivity = 3.4 * mm_h, drive = (0.0889 + 0.05) * 0.25;
  for (double time : {1.0, 60.0, 600.0, 3600.0, 86400.0, 4e5}) {
    CHECK_THAT(infiltrated_while_ponded(conductivity, drive, 0, time),
               WithinAbs(by_lambert(conductivity, drive, time), 1e-12));
  }
}

TEST_CASE("Steps of any length add up to one step") {
  const double conductivity = 6.5 * mm_h, drive = 0.0567;
  const double whole = infiltrated_while_ponded(conductivity, drive, 0.001, 7200);
  for (int steps : {2, 10, 1000}) {
    double infiltrated = 0.001;
    for (int i = 0; i < steps; ++i)
      infiltrated += infiltrated_while_ponded(conductivity, drive, infiltrated, 7200.0 / steps);
    CHECK_THAT(infiltrated - 0.001, WithinRel(whole, 1e-11));
  }
}

TEST_CASE("The time between two depths inverts what goes in over a time") {
  for (double drive : {0.0, 1e-6, 0.01, 1.0}) {
    for (double start : {0.0, 1e-5, 0.02, 0.5}) {
      for (double dt : {0.1, 30.0, 3600.0, 1e6}) {
        const double gain = infiltrated_while_ponded(1e-6, drive, start, dt);
        // Where gain << drive the two terms of the law cancel: their rounding is all that is lost.
        const double rounding = 4e-16 * (gain + drive) / 1e-6;
        CHECK_THAT(ponded_time_between(1e-6, drive, start, start + gain),
                   WithinAbs(dt, 1e-9 * dt + 10 * rounding));
      }
    }
  }
}

TEST_CASE("No suction or no deficit leaves the conductivity") {
  CHECK(infiltrated_while_ponded(1e-6, 0, 0, 100) == 1e-6 * 100);
  CHECK(infiltrated_while_ponded(1e-6, 0, 0.3, 100) == 1e-6 * 100);
  CHECK(infiltration_rate(1e-6, 0, 0) == 1e-6);
  CHECK(infiltrated_while_ponded(0, 0.05, 0, 100) == 0);
}

TEST_CASE("Steady rain ponds at Mein and Larson's moment, also inside a step") {
  const double conductivity = 6.5 * mm_h, drive = 0.1668 * 0.34, supply = 50 * mm_h;
  const double at_ponding = infiltrated_at_ponding(conductivity, drive, supply);
  CHECK_THAT(infiltration_rate(conductivity, drive, at_ponding), WithinRel(supply, 1e-14));
  CHECK_THAT(ponding_time(conductivity, drive, supply), WithinRel(at_ponding / supply, 1e-14));
  const double once = infiltrated_under_supply(conductivity, drive, 0, supply, 1800);
  const double before = ponding_time(conductivity, drive, supply);
  CHECK_THAT(once,
             WithinRel(at_ponding + infiltrated_while_ponded(conductivity, drive, at_ponding, 1800 - before),
                       1e-14));
  CHECK(infiltrated_under_supply(conductivity, drive, 0, supply, 0.9 * before) == supply * 0.9 * before);
  CHECK(std::isinf(ponding_time(conductivity, drive, conductivity)));
}
