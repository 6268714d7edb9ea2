// Water among vegetation that it bends, over the step at the edge of a slab, and out over an open edge. While
// rain of rate r has not yet brought water from the top of a plane to a place, the depth there is r t
// whatever the friction (kinematic wave: Lighthill and Whitham 1955), so that the discharge shows the law of
// friction itself.
#include <algorithm>
#include <cmath>
#include <vector>

#include "catch.hpp"
#include "figures.hpp"
#include "surface/yards.hpp"
#include "verification/steady_water.hpp"

using namespace yards;

namespace {

int cells(double length, double dx) {
  return static_cast<int>(std::lround(length / dx));
}

// Relative errors of the discharge at the foot of a lawn of 2 %, grass 6 mm high, n from 0.3 to 0.1.
std::vector<double> errors_on_grass(double dx) {
  constexpr double length = 30, slope = 0.02, thin = 0.3, deep = 0.1, height = 6e-3, rain = 120 * mm_per_hour;
  Terrain terrain =
      rectangle(cells(length, dx), 2, dx, thin, [&](double x, double) { return (length - x) * slope; });
  terrain.manning_n_deep.assign(terrain.manning_n.size(), deep);
  terrain.vegetation_height.assign(terrain.manning_n.size(), height);
  open_side(terrain, 1);
  Run run(std::move(terrain), never_resting());
  run.rain(rain);
  std::vector<double> errors;
  for (const double time : {80.0, 150.0, 200.0, 250.0, 300.0, 340.0}) { // 2.7 to 11.3 mm
    run.advance(time - 0.5 - run.time);
    const double q = run.advance(1) / (2 * dx);
    const double h = rain * time;
    const double part = std::clamp((h - 0.5 * height) / (1.5 * height), 0.0, 1.0);
    const double n = thin * std::pow(deep / thin, part);
    errors.push_back(q / (std::pow(h, 5.0 / 3.0) * std::sqrt(slope) / n) - 1);
  }
  CHECK(std::abs(run.misfit()) < 1e-9 * run.supplied);
  return errors;
}

// Water on a slab of 6 m by 1 % at equilibrium with 60 mm/h, as a share of what the steady equation
// h' = S - n^2 q^2 / h^(10/3) gives; it ends at a step above a rough lawn.
double stored_on_slab(double dx, double step) {
  constexpr double length = 6, slope = 0.01, n = 0.025, rain = 60 * mm_per_hour;
  Terrain terrain = rectangle(cells(2 * length, dx), 2, dx, n, [&](double x, double) {
    return x < length ? step + 0.02 * length + (length - x) * slope : 0.02 * (2 * length - x);
  });
  const auto& grid = terrain.grid;
  for (std::size_t c = 0; c < grid.cells(); ++c)
    if (grid.x(grid.column(static_cast<int>(c))) > length) terrain.manning_n[c] = 0.2;
  terrain.manning_n_deep = terrain.manning_n;
  open_side(terrain, 1);
  Run run(std::move(terrain), never_resting());
  run.rain(rain);
  run.advance(2000);
  CHECK_THAT(run.advance(100), WithinRel(rain * 2 * length * 2 * dx * 100, 1e-3));
  CHECK(std::abs(run.misfit()) < 1e-9 * run.supplied);
  double stored = 0;
  for (int i = 0; i < cells(length, dx); ++i) stored += run.flow.depth()[i] * dx;
  return stored / steady::water_on({length, slope, n, rain}).volume; // from normal depth at the step
}

// A swell on a steady flow of Froude number 0.55 comes down a plane that ends after 20 m, or goes on: how
// much that changes 2 m above the end, as a share of the swell.
double reflected(double dx) {
  const auto depths = [&](double length) {
    Terrain terrain = rectangle(cells(length, dx), 1, dx, 0.03, [&](double x, double) { return -0.01 * x; });
    open_side(terrain, 1);
    Run run(std::move(terrain), never_resting());
    std::vector<double> h;
    for (int k = 0; k < 240; ++k) {
      run.supply[0] = (k >= 150 && k < 160 ? 0.010 : 0.005) / dx;
      run.advance(1);
      h.push_back(run.flow.depth()[cells(18, dx)]);
    }
    return h;
  };
  const std::vector<double> ends = depths(20), goes_on = depths(60);
  double swell = 0, apart = 0;
  for (std::size_t k = 150; k < ends.size(); ++k) {
    swell = std::max(swell, goes_on[k] - goes_on[149]);
    apart = std::max(apart, std::abs(ends[k] - goes_on[k]));
  }
  CHECK(swell > 0.1 * goes_on[149]);
  return apart / swell;
}

} // namespace

// Steps grow with the cells, and rain within a step counts from the next on.
TEST_CASE("Grass that lies down under rising water", "[verification][surface]") {
  for (const double dx : {0.5, 0.25}) {
    const std::vector<double> errors = errors_on_grass(dx);
    const double allowed = 0.0056 * dx / lowspot::surface::Options{}.celerity_cap; // first order in the step
    CAPTURE(dx, errors);
    for (const double error : errors) {
      CHECK(std::abs(error) < allowed);
      figures::record("surface", "rain on grass, cells of 0.5 and 0.25 m",
                      "error of the discharge, as a share", std::abs(error), figures::at_most(allowed));
    }
  }
}

// A cell above the step drains as if the slope to the ground below were the slab's, so that the last cells
// are too shallow: less so the finer they are, and without any effect on what flows.
TEST_CASE("Over the step at the edge of a slab", "[verification][surface]") {
  for (const double step : {0.02, 0.15}) {
    std::vector<double> errors;
    for (const double dx : {0.5, 0.25, 0.125}) errors.push_back(1 - stored_on_slab(dx, step));
    CAPTURE(step, errors);
    CHECK(std::abs(errors[2]) < 0.03);
    figures::record("surface", "slab above a step, cells of 0.125 m", "error of the water on it, as a share",
                    std::abs(errors[2]), figures::at_most(0.03));
    CHECK(std::abs(errors[1]) < 0.05);
    CHECK(std::abs(errors[2]) < 0.75 * std::abs(errors[0]));
  }
}

// Normal depth at the edge leaves out the slope of the water surface: a hundredth of the swell.
TEST_CASE("A swell leaves over an open edge and does not come back", "[verification][surface]") {
  for (const double dx : {0.5, 0.25}) {
    const double share = reflected(dx);
    CAPTURE(dx);
    CHECK(share < 0.02);
    figures::record("surface", "swell over an open edge", "what comes back, as a share of it", share,
                    figures::at_most(0.02));
  }
}
