// Out over open edges of flat and nearly flat ground: steady, the same however fine the cells, and without a
// jump where the ground is no longer flat.
#include <algorithm>
#include <cmath>
#include <vector>

#include <lowspot/surface/edges.hpp>

#include "catch.hpp"
#include "figures.hpp"
#include "surface/yards.hpp"

using namespace yards;
using lowspot::surface::flat_bed;
using lowspot::surface::flat_edge_slope;

namespace {

constexpr double length = 5;

double normal_depth(double n, double q, double slope) {
  return std::pow(n * q / std::sqrt(slope), 0.6);
}

// What comes at the top of a plane leaves over its foot, after an hour.
Run steady_plane(double slope, double n, double q, double dx) {
  const int cells = static_cast<int>(std::lround(length / dx));
  Terrain terrain = rectangle(cells, 1, dx, n, [&](double x, double) { return -slope * x; });
  open_side(terrain, 1);
  Run run(std::move(terrain), never_resting());
  run.supply[0] = q / dx;
  run.advance(3600);
  return run;
}

double depth_halfway(const Run& run) {
  const std::size_t half = run.flow.depth().size() / 2;
  return 0.5 * (run.flow.depth()[half - 1] + run.flow.depth()[half]);
}

} // namespace

// From the depth at the edge, h' = -(n q)^2 / h^(10/3) upward, so that h^(13/3) grows evenly. The edge law
// has the depth at the middle of the last cell, half a cell from the edge: first order.
TEST_CASE("Drawdown to the edge of flat ground", "[verification][surface]") {
  for (const auto& [n, q] : {std::pair{0.015, 1e-3}, {0.1, 1e-3}, {0.3, 5e-3}}) {
    const double foot = normal_depth(n, q, flat_edge_slope);
    const double exact = std::pow(std::pow(foot, 13.0 / 3) + 13.0 / 3 * n * n * q * q * length / 2, 3.0 / 13);
    std::vector<double> errors;
    for (const double dx : {0.5, 0.25, 0.125}) {
      CAPTURE(n, q, dx);
      Run run = steady_plane(0, n, q, dx);
      errors.push_back(std::abs(depth_halfway(run) / exact - 1));
      for (int minute = 0; minute < 60; ++minute) {
        const double left = run.advance(60) / (q * dx * 60);
        CHECK_THAT(left, WithinAbs(1, 1e-3));
        figures::record("surface", "drawdown to the edge of flat ground", "swing of the outflow, as a share",
                        std::abs(left - 1), figures::at_most(1e-3));
      }
      CHECK(std::abs(run.misfit()) < 1e-9 * run.supplied);
    }
    CAPTURE(n, q, errors);
    CHECK(errors[2] < 0.01);
    figures::record("surface", "drawdown to the edge of flat ground",
                    "error of the depth at cells of 0.125 m, as a share", errors[2], figures::at_most(0.01));
    for (const std::size_t finer : {1, 2}) {
      const double order = std::log2(errors[finer - 1] / errors[finer]);
      CHECK(order > 0.9);
      figures::record("surface", "drawdown to the edge of flat ground", "order in dx of the depth", order,
                      figures::at_least(0.9));
    }
  }
}

// Below flat_bed the ground beyond is less and less as that before the edge, so that the depth changes with
// the slope, but never at once; from there on the flow is even.
TEST_CASE("From flat ground to a slope the depth at an edge changes without a jump",
          "[verification][surface]") {
  constexpr double n = 0.3, q = 1e-3, step = 5e-5;
  const auto halfway = [&](double slope) { return depth_halfway(steady_plane(slope, n, q, 0.25)); };
  double before = halfway(0), most = 0;
  for (int k = 1; k <= 100; ++k) {
    const double slope = k * step, depth = halfway(slope);
    CAPTURE(slope);
    const double change = std::abs(depth / before - 1);
    CHECK(change < 0.06);
    most = std::max(most, change);
    before = depth;
    if (slope > 1.0001 * flat_bed) CHECK_THAT(depth, WithinRel(normal_depth(n, q, slope), 1e-4));
  }
  figures::record("surface", "edges of slopes from nothing to 0.5 %, in steps of 0.005 %",
                  "largest change of the depth, as a share", most, figures::at_most(0.06));
  CHECK_THAT(halfway(1.001 * flat_bed), WithinRel(halfway(0.999 * flat_bed), 2e-3));
}
