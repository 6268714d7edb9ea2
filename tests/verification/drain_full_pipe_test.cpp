// Pipes under pressure: a solid one, and one that gathers through openings from a fixed level outside.
// Friction resists the flow along the pipe, and so does what comes in through the openings, which must be
// brought up to its speed: dH/dx = -Q2/K2 - 2 Q q / (g A2).
#include <cmath>
#include <vector>

#include <lowspot/drain/drain.hpp>

#include "catch.hpp"
#include "figures.hpp"

using namespace lowspot;
using namespace lowspot::drain;

namespace {

Layout full_pipe(double openings, int cells) {
  Layout layout;
  Run run;
  run.name = "pipe";
  run.path = {{0, 0}, {24, 0}};
  run.inverts = {0, 0};
  run.pipe = {0.1, 0.013, openings, 0.61};
  run.has_trench = openings > 0;
  run.trench_width = 1e5; // so wide that its level stays where it is
  run.stone = {1.0, 0, 0};
  run.cap = {1e-9, 0.1};
  run.to = "end";
  layout.runs = {run};
  layout.outlets = {{"end", OutletKind::submerged, {24, 0}}};
  layout.outlets[0].level = 0.5;
  layout.station_spacing = 24.0 / cells;
  return layout;
}

double gathered(int cells) {
  Drain drain(full_pipe(4e-4, cells), [](Point) { return 5.0; });
  const std::size_t n = drain.stations().size();
  const std::vector<double> none(n, 0.0);
  // Fill the outside to 0.62 m at once, which is 0.12 m above the level at the outlet.
  const std::vector<double> fill(n, 0.62 * 1e5 * 24.0 / cells);
  drain.advance(1, {fill, none, none}, none);
  for (int k = 0; k < 120; ++k) drain.advance(1, {none, none, none}, none);
  CHECK_THAT(drain.stone_level()[0], WithinAbs(0.62, 1e-6));
  return drain.outlet_flow(0);
}

} // namespace

TEST_CASE("a full solid pipe loses what Manning's formula says") {
  Drain drain(full_pipe(0, 24), [](Point) { return 5.0; });
  std::vector<double> in(24, 0.0);
  const std::vector<double> none(24, 0.0);
  in[0] = 3.652511e-3;
  for (int k = 0; k < 200; ++k) drain.advance(5, {none, none, in}, none);
  CHECK_THAT(drain.outlet_flow(0), WithinRel(3.652511e-3, 1e-9));
  // 0.12 m over 24 m: from the middle of the first station to the outlet, 23.5 m.
  CHECK_THAT(drain.pipe_level()[0] - 0.5, WithinRel(0.12 * 23.5 / 24, 5e-3));
  figures::record("drain", "full solid pipe, 24 m", "loss of head, m", 0.12 * 23.5 / 24,
                  drain.pipe_level()[0] - 0.5, figures::share(5e-3));
}

// With friction alone the pipe would gather 5.882878 L/s.
TEST_CASE(
    "a full perforated pipe gathers what its openings, its friction and the speed of the inflow allow") {
  const double exact = 5.087770e-3;
  const double coarse = gathered(12), fine = gathered(24), finest = gathered(48);
  CHECK_THAT(fine, WithinRel(exact, 0.003));
  figures::record("drain", "full perforated pipe, 24 m", "what it gathers in 24 stations, L/s", exact * 1e3,
                  fine * 1e3, figures::share(0.003));
  CHECK_THAT(coarse, WithinRel(exact, 0.01));
  figures::record("drain", "full perforated pipe, 24 m", "in 12 stations, L/s", exact * 1e3, coarse * 1e3,
                  figures::share(0.01));
  const double order = std::log2(std::abs(coarse - exact) / std::abs(finest - exact)) / 2;
  CHECK(order > 1.2);
  figures::record("drain", "full perforated pipe, 24 m", "order in the length of a station", order,
                  figures::at_least(1.2));
}
