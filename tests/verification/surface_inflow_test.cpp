// Steady inflow into a swale that ends in still water (backwater), and a large valley of smooth planes (di
// Giammarco, Todini and Lamberti 1996, as quoted), which is far beyond the Froude limit of the plain
// equations.
#include <cmath>
#include <vector>

#include "catch.hpp"
#include "figures.hpp"
#include "surface/yards.hpp"

using namespace yards;

namespace {

constexpr double swale_length = 50, fall = 0.005, manning_n = 0.03, discharge = 0.006, end_depth = 0.15;

// Depths of the steady state without advective acceleration, h' = S - n^2 q^2 / h^(10/3), marched upstream
// from the level at the end in steps small enough for six digits (Runge and Kutta, fourth order).
double steady_depth(double x) {
  const auto gradient = [](double h) {
    return fall - std::pow(manning_n * discharge, 2) / std::pow(h, 10.0 / 3.0);
  };
  double h = end_depth;
  const int steps = 4000;
  const double dx = (swale_length - x) / steps;
  for (int k = 0; k < steps; ++k) {
    const double k1 = gradient(h), k2 = gradient(h - dx / 2 * k1), k3 = gradient(h - dx / 2 * k2),
                 k4 = gradient(h - dx * k3);
    h -= dx / 6 * (k1 + 2 * k2 + 2 * k3 + k4);
  }
  return h;
}

// The swale runs into a pond whose level is held by taking away what comes in, more or less while it is off.
std::vector<double> backwater(double dx) {
  const int swale = static_cast<int>(std::lround(swale_length / dx)),
            pond = static_cast<int>(std::lround(5 / dx));
  const int nx = swale + pond;
  Terrain terrain = rectangle(nx, 1, dx, manning_n, [&](double x, double) {
    return x < swale_length ? fall * (swale_length - x) : -0.35;
  });
  Run run(std::move(terrain));
  for (int i = 0; i < nx; ++i) {
    const double level = std::max(end_depth - run.flow.terrain().elevation[i], 0.0);
    if (i >= swale) run.flow.give(i, level);
  }
  const double held = run.flow.depth()[nx - 1];
  run.supply[0] = discharge / dx;
  constexpr double lag = 20; // s: in which the pond's level is put right by what is taken from it
  for (int k = 0; k < 3000; ++k) {
    double level = 0;
    for (int i = swale; i < nx; ++i) level += run.flow.depth()[i] / pond;
    for (int i = swale; i < nx; ++i) run.sink[i] = std::max(discharge / 5 + (level - held) / lag, 0.0);
    run.advance(1);
  }
  const auto h = run.flow.depth();
  return {h.begin(), h.begin() + swale};
}

double depth_at(const std::vector<double>& h, double x) { // between centres
  const double dx = swale_length / static_cast<double>(h.size());
  const double at = x / dx - 0.5;
  const auto i = static_cast<std::size_t>(at);
  return h[i] + (at - static_cast<double>(i)) * (h[i + 1] - h[i]);
}

} // namespace

TEST_CASE("Backwater in a swale", "[verification][surface]") {
  CHECK_THAT(steady_depth(30), WithinAbs(0.052590, 2e-6));
  CHECK_THAT(steady_depth(20), WithinAbs(0.028291, 2e-6));
  std::vector<double> errors;
  for (const double dx : {1.0, 0.5, 0.25}) {
    const std::vector<double> h = backwater(dx);
    double most = 0;
    for (const double x : {10.0, 20.0, 30.0, 35.0, 40.0, 45.0}) {
      const double error = std::abs(depth_at(h, x) / steady_depth(x) - 1);
      CAPTURE(dx, x, depth_at(h, x), steady_depth(x));
      if (dx <= 0.5) {
        CHECK(error < 0.003);
        figures::record("surface", "backwater in a swale, cells of 0.5 and 0.25 m", "depths, mm",
                        steady_depth(x) * 1e3, depth_at(h, x) * 1e3, figures::share(0.003));
      }
      most = std::max(most, error);
    }
    CAPTURE(dx);
    if (dx <= 0.5) CHECK_THAT(depth_at(h, 25), WithinRel(steady_depth(25), 0.03));
    errors.push_back(most);
  }
  CAPTURE(errors);
  CHECK(errors[1] < 0.5 * errors[0]);
  CHECK(errors[2] < 0.5 * errors[1]);
}

// Planes of 800 m (5 %, n 0.015) to both sides of a channel 20 m wide (2 %, n 0.15), 1000 m long; rain 10.8
// mm/h for 90 minutes. Exact by characteristics.
static void large_valley(double dx, double tolerance) {
  const int wide = static_cast<int>(std::lround(20 / dx)), side = 40 * wide, nx = 2 * side + wide,
            ny = 50 * wide;
  Terrain terrain = rectangle(nx, ny, dx, 0.015, [&](double x, double y) {
    const double from_edge = std::abs(x - 810) - 10; // distance from the channel
    return from_edge > 0 ? 21 + 0.05 * from_edge : 0.02 * y;
  });
  for (int j = 0; j < ny; ++j)
    for (int i = side; i < side + wide; ++i) terrain.manning_n[terrain.grid.index(i, j)] = 0.15;
  terrain.manning_n_deep = terrain.manning_n;
  for (int i = side; i < side + wide; ++i) terrain.open_faces.push_back({i, 2});
  Run run(std::move(terrain));
  run.rain(10.8 * mm_per_hour);
  struct Reading {
    double minutes, flow; // m3/s
  };
  for (const Reading& reading : {Reading{20, 0.17497},
                                 {30, 1.00807},
                                 {40, 2.79819},
                                 {50, 4.64915},
                                 {60, 4.86},
                                 {90, 4.86},
                                 {100, 4.25883},
                                 {110, 3.14522},
                                 {120, 2.13861},
                                 {150, 0.70},
                                 {180, 0.29803}}) {
    if (reading.minutes > 90) run.rain(0);
    run.advance(reading.minutes * 60 - run.time - 5);
    const double q = run.advance(5) / 5;
    CAPTURE(dx, reading.minutes);
    CHECK_THAT(q, WithinAbs(reading.flow, (reading.minutes == 90 ? 0.001 : tolerance) * 4.86));
    // What is little, within 4.8 and 3.2 % of itself.
    if (reading.flow < 0.1 * 4.86) CHECK_THAT(q, WithinRel(reading.flow, dx > 15 ? 0.06 : 0.04));
    figures::record("surface", "kilometre-long valley, cells of 20 and 10 m",
                    "discharge, m3/s (share of the steady one)", reading.flow, q,
                    figures::share(tolerance, 4.86));
  }
  CHECK_THAT(run.out, WithinRel(25089, 0.005));
  CHECK(std::abs(run.misfit()) < 1e-9 * run.supplied);
}

TEST_CASE("Large valley of smooth planes", "[verification][surface]") {
  large_valley(20, 0.10);
  large_valley(10, 0.06);
}
