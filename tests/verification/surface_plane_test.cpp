// Impervious planes under block rain against the exact kinematic solution (Lighthill and Whitham 1955;
// Woolhiser and Liggett 1967), and the Froude limit of the equations without advective acceleration
// (Whitham's criterion).
#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "catch.hpp"
#include "figures.hpp"
#include "surface/yards.hpp"
#include "verification/steady_water.hpp"

using namespace yards;

namespace {

Run plane(double length, double width, double slope, double manning_n, double dx) {
  Terrain terrain =
      rectangle(static_cast<int>(std::lround(length / dx)), static_cast<int>(std::lround(width / dx)), dx,
                manning_n, [&](double x, double) { return (length - x) * slope; });
  open_side(terrain, 1);
  return Run(std::move(terrain), never_resting());
}

// Discharge at a time [m3/s], from the volume that leaves in the tenth of a second before it.
double discharge_at(Run& run, double time) {
  run.advance(time - run.time - 0.1);
  return run.advance(0.1) / 0.1;
}

struct Reading {
  double time;
  double litres_per_second;
  double tolerance; // share of the equilibrium discharge
};

constexpr double equilibrium = 2.0833333e-3; // m3/s: 50 mm/h on 150 m2

constexpr double tail_within = 0.03; // of a reading under a tenth of that; 0.1 to 2.2 % is what it gives

void check_readings(Run& run, double rain_ends, const std::vector<Reading>& readings) {
  run.rain(50 * mm_per_hour);
  for (const Reading& reading : readings) {
    if (reading.time > rain_ends && run.time <= rain_ends) {
      run.advance(rain_ends - run.time);
      run.rain(0);
    }
    CAPTURE(reading.time);
    const double q = discharge_at(run, reading.time);
    CHECK_THAT(q, WithinAbs(reading.litres_per_second * 1e-3, reading.tolerance * equilibrium));
    if (reading.litres_per_second * 1e-3 < 0.1 * equilibrium)
      CHECK_THAT(q, WithinRel(reading.litres_per_second * 1e-3, tail_within));
    figures::record("surface", rain_ends > 600 ? "rain on a plane, long" : "rain on a plane, short",
                    reading.tolerance > 0.05 ? "discharge where its curve has a corner, L/s"
                                             : "discharge, L/s (share of the steady one)",
                    reading.litres_per_second, q * 1e3, figures::share(reading.tolerance, equilibrium * 1e3));
  }
}

} // namespace

TEST_CASE("Plane, rain longer than the time of concentration", "[verification][surface]") {
  for (const double dx : {0.5, 0.25}) {
    CAPTURE(dx);
    Run run = plane(30, 5, 0.01, 0.025, dx);
    // 6 % near the time of concentration, where pressure rounds the corner of the kinematic solution.
    check_readings(run, 1800,
                   {{60, 0.147591, 0.02},
                    {120, 0.468574, 0.02},
                    {180, 0.921008, 0.02},
                    {240, 1.487629, 0.02},
                    {293.74, 2.083333, 0.06},
                    {600, 2.083333, 0.001},
                    {1799, 2.083333, 0.001},
                    {1830, 1.752422, 0.02},
                    {1860, 1.466949, 0.02},
                    {1920, 1.018123, 0.02},
                    {2040, 0.491408, 0.02},
                    {2400, 0.087516, 0.02}});
    CHECK_THAT(run.out, WithinRel(3712.595e-3, 0.005));
    figures::record("surface", "rain on a plane, long", "books, as a share of the rain",
                    std::abs(run.misfit()) / run.supplied, figures::at_most(1e-9));
    CHECK(std::abs(run.misfit()) < 1e-9 * run.supplied);
  }
}

TEST_CASE("Plane, rain shorter than the time of concentration", "[verification][surface]") {
  Run run = plane(30, 5, 0.01, 0.025, 0.5);
  check_readings(run, 180,
                 {{120, 0.468574, 0.02},
                  {179, 0.912499, 0.02},
                  {240, 0.921008, 0.02},
                  {300, 0.921008, 0.06},
                  {330, 0.846563, 0.06},
                  {360, 0.704416, 0.02},
                  {420, 0.491408, 0.02},
                  {600, 0.187687, 0.02},
                  {900, 0.057583, 0.02},
                  {1200, 0.025085, 0.02},
                  {1800, 0.008055, 0.02}});
  CHECK_THAT(run.out, WithinRel(366.248e-3, 0.005));
  CHECK(std::abs(run.misfit()) < 1e-9 * run.supplied);
}

TEST_CASE("Plane, order of convergence", "[verification][surface]") {
  const double stored = steady::water_on({30, 0.01, 0.025, 50 * mm_per_hour}).volume;
  CHECK_THAT(stored, WithinRel(0.38248 / 5, 0.01)); // the kinematic figure
  std::vector<double> errors;
  for (const double dx : {1.0, 0.5, 0.25}) {
    Run run = plane(30, dx, 0.01, 0.025, dx);
    run.rain(50 * mm_per_hour);
    run.advance(1200);
    errors.push_back(std::abs(run.flow.volume() / dx - stored) / stored);
  }
  CAPTURE(errors);
  CHECK(errors[2] < 0.003);
  CHECK(std::log2(errors[0] / errors[1]) > 0.8);
  CHECK(std::log2(errors[1] / errors[2]) > 0.8);
  figures::record("surface", "rain on a plane, long", "order in dx of the water on it",
                  std::log2(errors[1] / errors[2]), figures::at_least(0.8));
}

TEST_CASE("Planes beyond the Froude limit of the plain equations", "[verification][surface]") {
  struct Case {
    double slope, manning_n, rain; // mm/h
  };
  // Froude numbers 0.5, 1.08, 1.86 and 3.9 at the foot.
  for (const Case& c :
       {Case{0.01, 0.025, 60}, Case{0.02, 0.015, 60}, Case{0.05, 0.013, 60}, Case{0.15, 0.011, 150}})
    for (const double dx : {1.0, 0.5, 0.25, 0.1}) {
      CAPTURE(c.slope, dx);
      Run run = plane(20, 4 * dx, c.slope, c.manning_n, dx);
      run.rain(c.rain * mm_per_hour);
      run.advance(400);
      const double expected = c.rain * mm_per_hour * 20 * 4 * dx;
      const double depth = std::pow(c.rain * mm_per_hour * 20 * c.manning_n / std::sqrt(c.slope), 0.6);
      double least = 1e9, most = 0, ripple = 0;
      while (run.time < 600) {
        const double share = run.advance(2) / 2 / expected;
        least = std::min(least, share);
        most = std::max(most, share);
        const auto h = run.flow.depth();
        for (int i = 4; i + 1 < run.flow.terrain().grid.nx; ++i) // the head of the plane is curved by nature
          ripple = std::max(ripple, std::abs(h[i - 1] - 2 * h[i] + h[i + 1]));
      }
      const double tolerance = dx >= 0.25 ? 0.01 : 0.05;
      CHECK(least > 1 - tolerance);
      CHECK(most < 1 + tolerance);
      CHECK(ripple < 0.03 * depth);
      const std::string which = dx >= 0.25 ? "planes of Froude 0.5 to 3.9, cells of 0.25 m and more"
                                           : "planes of Froude 0.5 to 3.9, cells of 0.1 m";
      figures::record("surface", which, "swing of the steady discharge, as a share",
                      std::max(1 - least, most - 1), figures::at_most(tolerance));
      figures::record("surface", which, "ripples over the depth", ripple / depth, figures::at_most(0.03));
      CHECK(std::abs(run.misfit()) < 1e-9 * run.supplied);
    }
}

// Friction far above inertia: with the friction of the old discharge these two run away.
TEST_CASE("Rough planes", "[verification][surface]") {
  struct Case {
    double slope, manning_n, rain, concentration; // mm/h, s
    std::vector<double> times;
  };
  for (const Case& c :
       {Case{0.04, 0.20, 30, 649.07, {200, 350, 500}}, Case{0.06, 0.30, 60, 555.53, {150, 300, 450}}})
    for (const double dx : {1.0, 0.5, 0.25}) {
      Run run = plane(20, 4 * dx, c.slope, c.manning_n, dx);
      run.rain(c.rain * mm_per_hour);
      const double expected = c.rain * mm_per_hour * 20 * 4 * dx;
      for (const double time : c.times) {
        CAPTURE(c.slope, dx, time);
        const double share = discharge_at(run, time) / expected,
                     exact = std::pow(time / c.concentration, 5.0 / 3.0);
        CHECK_THAT(share, WithinAbs(exact, 0.02));
        figures::record("surface", "rough planes, n 0.2 and 0.3", "discharge over the steady one", exact,
                        share, figures::amount(0.02));
      }
    }
}

// Fast flow aslant to the grid: steady, without ripples, whatever its direction (Froude 1.3 and 2.6 at the
// foot).
TEST_CASE("Fast planes aslant", "[verification][surface]") {
  const double pi = 3.14159265358979323846, dx = 0.1, size = 8;
  const int n = 80;
  for (const auto& [slope, manning_n, rain] : {std::array{0.05, 0.013, 60.0}, {0.15, 0.011, 150.0}})
    for (const double degrees : {15.0, 45.0, 70.0}) {
      CAPTURE(slope, degrees);
      const double a = degrees * pi / 180, s = slope;
      Terrain terrain = rectangle(n, n, dx, manning_n, [=](double x, double y) {
        return 5 - s * (std::cos(a) * x + std::sin(a) * y);
      });
      open_side(terrain, 1);
      open_side(terrain, 3);
      Run run(std::move(terrain));
      run.rain(rain * mm_per_hour);
      run.advance(150);
      double least = 1e9, most = 0;
      while (run.time < 200) {
        const double share = run.advance(1) / (rain * mm_per_hour * size * size);
        least = std::min(least, share);
        most = std::max(most, share);
      }
      CHECK(least > 0.999);
      CHECK(most < 1.001);
      const auto h = run.flow.depth();
      double ripple = 0, deepest = 0;
      for (int j = 5; j < n - 5; ++j)
        for (int i = 5; i < n - 5; ++i) {
          const int c = j * n + i;
          deepest = std::max(deepest, h[c]);
          ripple = std::max(
              {ripple, std::abs(h[c - 1] - 2 * h[c] + h[c + 1]), std::abs(h[c - n] - 2 * h[c] + h[c + n])});
        }
      CHECK(ripple < 0.03 * deepest);
    }
}
