// The routed method in mild flow, where the depth is many times the fall from cell to cell: what is even
// stays even, from step to step and from cell to cell.

#include <algorithm>
#include <cmath>

#include "catch.hpp"
#include "surface/yards.hpp"

using namespace yards;
using lowspot::surface::Method;
using lowspot::surface::Options;

// Manning's law: h = (n q / S^(1/2))^(3/5) all along a strip that is fed at its head. In the fronts that fill
// it depths are far from even, so that whatever swings can start.
TEST_CASE("Routed: even flow in mild strips", "[verification][routed]") {
  struct Strip {
    double cell, slope, n, q;
  };
  double worst = 0;
  for (const Strip& strip : {Strip{0.5, 0.01, 0.1, 3e-4},  // depth over the fall: 2
                             Strip{0.25, 0.01, 0.1, 3e-3}, // 12
                             Strip{0.25, 0.003, 0.1, 1e-3}, Strip{0.25, 0.005, 0.15, 3e-3},
                             Strip{0.61, 0.004, 0.3, 1e-2}, Strip{0.1, 0.003, 0.3, 1e-3}}) { // 147
    for (const double step : {5.0, 20.0}) {
      const int length = 40;
      Terrain terrain =
          rectangle(length, 2, strip.cell, strip.n, [&](double x, double) { return 10 - strip.slope * x; });
      open_side(terrain, 1);
      Options options;
      options.method = Method::routed;
      options.routing_step = step;
      Run run(std::move(terrain), options);
      run.supply[0] = run.supply[length] = strip.q / strip.cell;
      const double even = std::pow(strip.n * strip.q / std::sqrt(strip.slope), 0.6);
      CAPTURE(strip.cell, strip.slope, strip.q, step, even);
      while (run.time < 3 * 3600) run.advance(60);
      for (int k = 0; k < 30; ++k) {
        const double flow = run.advance(20) / 20 / (2 * strip.cell * strip.q);
        CHECK_THAT(flow, WithinAbs(1, 0.01));
        for (int i = 0; i < length; ++i) worst = std::max(worst, std::abs(run.flow.depth()[i] / even - 1));
      }
    }
  }
  // The even depth solves the steps exactly: what is left is what single precision and the last of the
  // filling leave.
  CHECK(worst < 0.005);
}

// A swale with sides of 5 %: Manning's law for each row of cells, whose levels are one.

TEST_CASE("Routed: even flow in a swale", "[verification][routed]") {
  const double dx = 0.25, slope = 0.005, n = 0.15, side = 0.05, discharge = 0.002;
  const int nx = 80, ny = 17;
  const double middle = ny * dx / 2;
  Terrain terrain = rectangle(
      nx, ny, dx, n, [&](double x, double y) { return 10 - slope * x + side * std::abs(y - middle); });
  open_side(terrain, 1);
  Options options;
  options.method = Method::routed;
  Run run(std::move(terrain), options);
  const auto& grid = run.flow.terrain().grid;
  const auto part = [&](double deepest, int j) {
    const double h = std::max(deepest - side * std::abs(grid.y(j) - middle), 0.0);
    return std::pow(h, 5.0 / 3.0) * dx * std::sqrt(slope) / n;
  };
  const auto all = [&](double deepest) {
    double sum = 0;
    for (int j = 0; j < ny; ++j) sum += part(deepest, j);
    return sum;
  };
  double low = 0, high = 1;
  for (int k = 0; k < 60; ++k) (all((low + high) / 2) < discharge ? low : high) = (low + high) / 2;
  for (int j = 0; j < ny; ++j) run.supply[grid.index(0, j)] = part(low, j) / (dx * dx);
  while (run.time < 3600) run.advance(20);
  for (int k = 0; k < 90; ++k) {
    CHECK_THAT(run.advance(20) / 20, WithinRel(discharge, 0.02));
    CHECK_THAT(run.flow.depth()[grid.index(nx / 2, ny / 2)], WithinRel(low, 0.03));
  }
}
