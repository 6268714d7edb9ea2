// Over walls and curbs: critical flow over the crest (Belanger 1828), q = (2/3)^(3/2) sqrt(g) H^(3/2) with
// the head H above it, and the head of the speed where the water beyond covers it.
#include <algorithm>
#include <cmath>

#include "catch.hpp"
#include "figures.hpp"
#include "surface/yards.hpp"

using namespace yards;
using lowspot::surface::Method;
using lowspot::surface::Options;

namespace {

constexpr double gravity = 9.81, crest = 0.1;

// Two metres of level pan behind a wall, then as much ground that begins at `beyond` and falls by 2 % to an
// open edge, on which an end wall holds water back.
Run pan_behind_wall(double q, double n, double dx, double beyond, double end_wall,
                    const Options& options = never_resting()) {
  const int half = static_cast<int>(std::lround(2 / dx));
  Terrain terrain =
      rectangle(2 * half, 1, dx, n, [&](double x, double) { return x < 2 ? 0 : beyond - 0.02 * (x - 2); });
  terrain.crest_x[terrain.grid.x_face(half, 0)] = crest;
  terrain.crest_x[terrain.grid.x_face(2 * half, 0)] = end_wall;
  open_side(terrain, 1);
  Run run(std::move(terrain), options);
  run.supply[0] = q / dx;
  return run;
}

double level(const Run& run, int cell) {
  return run.flow.terrain().elevation[cell] + run.flow.depth()[cell];
}

// The largest deviation of the outflow in half an hour from what comes, as a share.
double swing(Run& run, double q) {
  double most = 0;
  for (int k = 0; k < 180; ++k)
    most = std::max(most, std::abs(run.advance(10) / (q * run.flow.terrain().grid.cell * 10) - 1));
  return most;
}

} // namespace

// A wall of 0.1 m, heads to 21 mm: of drops far below, none of what lies beyond counts.
TEST_CASE("Water passes a wall at critical depth", "[verification][surface]") {
  for (const double q : {5e-4, 2e-3, 5e-3})
    for (const double n : {0.015, 0.1})
      for (const double dx : {0.25, 0.1}) {
        CAPTURE(q, n, dx);
        Run run = pan_behind_wall(q, n, dx, -0.5, -10);
        run.advance(1800);
        const double head = level(run, static_cast<int>(std::lround(2 / dx)) - 1) - crest;
        const double weir = 1.5 * std::cbrt(q * q / gravity);
        CHECK_THAT(head, WithinRel(weir, 0.02));
        figures::record("surface", "head over a wall, cells of 0.25 and 0.1 m", "head, mm", weir * 1e3,
                        head * 1e3, figures::share(0.02));
        CHECK(swing(run, q) < 1e-3);
        CHECK(std::abs(run.misfit()) < 1e-9 * run.supplied);
      }
}

// The same heads whatever the steps, with the water beyond far below the crest or a little above it.
TEST_CASE("Routed water passes a wall at critical depth", "[verification][surface][routed]") {
  Options routed;
  routed.method = Method::routed;
  for (const double q : {5e-4, 2e-3, 5e-3})
    for (const double beyond : {-0.5, 0.0})
      for (const double dx : {0.25, 0.1})
        for (const double step : {20.0, 60.0}) {
          CAPTURE(q, beyond, dx, step);
          Run run = pan_behind_wall(q, 0.03, dx, beyond, beyond < 0 ? -10 : 0.09, routed);
          for (int k = 0; k < 3600 / step; ++k) run.advance(step);
          const double head = level(run, static_cast<int>(std::lround(2 / dx)) - 1) - crest;
          const double weir = 1.5 * std::cbrt(q * q / gravity);
          CHECK_THAT(head, WithinRel(weir, 0.002));
          figures::record("surface", "routed: head over a wall, steps of 20 and 60 s", "head, mm", weir * 1e3,
                          head * 1e3, figures::share(0.002));
          CHECK(std::abs(run.misfit()) < 1e-9 * run.supplied);
        }
}

// An end wall lifts the water beyond: over the crest of the first, two thirds of the head and more.
TEST_CASE("A wall with water beyond holds back less and less", "[verification][surface]") {
  constexpr double q = 5e-3, n = 0.015, dx = 0.25;
  const double weir = 1.5 * std::cbrt(q * q / gravity);
  double fall_before = weir;
  for (const double end_wall : {0.04, 0.08, 0.09, 0.10, 0.11, 0.12, 0.15, 0.3}) {
    Run run = pan_behind_wall(q, n, dx, 0, end_wall);
    run.advance(3600);
    const double head = level(run, 7) - crest, beyond = level(run, 8) - crest;
    CAPTURE(end_wall, head, beyond);
    CHECK(swing(run, q) < 1e-3);
    CHECK(head - beyond > 0);
    if (beyond < 2.0 / 3 * weir) {
      CHECK_THAT(head, WithinRel(weir, 0.02));
    } else if (head < 0.75 * crest) {
      // The speed over the crest has the head that is lost there.
      CHECK_THAT(beyond * std::sqrt(2 * gravity * (head - beyond)), WithinRel(q, 0.02));
      CHECK(head - beyond < fall_before);
      figures::record("surface", "wall under water", "discharge, L/s for a metre", q * 1e3,
                      beyond * std::sqrt(2 * gravity * (head - beyond)) * 1e3, figures::share(0.02));
      fall_before = head - beyond;
    }
  }
}
