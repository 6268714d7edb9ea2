// A pipe that gathers water evenly along its length, against the kinematic solution Q = w x.
#include <cmath>
#include <vector>

#include <lowspot/drain/drain.hpp>
#include <lowspot/drain/pipe_section.hpp>

#include "catch.hpp"
#include "figures.hpp"

using namespace lowspot;
using namespace lowspot::drain;

namespace {

constexpr double inflow = 0.15e-3; // m2/s
constexpr double pipe_length = 20;

Drain gathering_pipe(int cells) {
  Layout layout;
  Run run;
  run.name = "pipe";
  run.path = {{0, 0}, {pipe_length, 0}};
  run.inverts = {1.2, 1.0};
  run.pipe = {0.1, 0.012, 0, 0.61};
  run.has_trench = false;
  run.to = "end";
  layout.runs = {run};
  layout.outlets = {{"end", OutletKind::daylight, {pipe_length, 0}}};
  layout.station_spacing = pipe_length / cells;
  return Drain(layout, [](Point) { return 3.0; });
}

void gather(Drain& drain, double dt) {
  const std::size_t n = drain.stations().size();
  const std::vector<double> in(n, inflow * pipe_length / n), none(n, 0.0);
  drain.advance(dt, {none, none, in}, none);
}

} // namespace

TEST_CASE("steady depths along a gathering pipe") {
  Drain drain = gathering_pipe(20);
  for (int k = 0; k < 120; ++k) gather(drain, 5);
  CHECK_THAT(drain.outlet_flow(0), WithinRel(3e-3, 1e-6));
  CHECK_THAT(drain.run_state(0).foot_depth, WithinRel(52.1164e-3, 1e-4));
  figures::record("drain", "pipe that gathers along its length", "depth at its foot, mm", (52.1164e-3) * 1e3,
                  (drain.run_state(0).foot_depth) * 1e3, figures::share(1e-4));
  // In the first two metres the depth grows as fast as the pipe falls: the kinematic figure is not the limit
  // there.
  for (int i = 2; i < 20; ++i) {
    const double exact = normal_depth(0.1, 0.012, 0.01, inflow * drain.stations()[i].distance);
    CHECK_THAT(drain.pipe_level()[i] - drain.stations()[i].invert, WithinRel(exact, 0.01));
    figures::record("drain", "pipe that gathers along its length", "depths from 2.5 m on, m", exact,
                    drain.pipe_level()[i] - drain.stations()[i].invert, figures::share(0.01));
  }
  CHECK_THAT(drain.stored(), WithinRel(47.796e-3, 0.01));
  figures::record("drain", "pipe that gathers along its length", "water in it, L", (47.796e-3) * 1e3,
                  (drain.stored()) * 1e3, figures::share(0.01));
}

TEST_CASE("finer stations come nearer to the kinematic depths") {
  const auto error = [](int cells) {
    Drain drain = gathering_pipe(cells);
    for (int k = 0; k < 120; ++k) gather(drain, 5);
    double sum = 0;
    for (int i = 0; i < cells; ++i) {
      const double x = drain.stations()[i].distance;
      if (x < 4) continue; // where the pressure of the deepening water still counts
      const double exact = normal_depth(0.1, 0.012, 0.01, inflow * x);
      sum += std::abs(drain.pipe_level()[i] - drain.stations()[i].invert - exact) / cells;
    }
    return sum;
  };
  const double order = std::log2(error(10) / error(20));
  CHECK(order > 1);
  figures::record("drain", "pipe that gathers along its length", "order in the length of a station", order,
                  figures::at_least(1));
}

TEST_CASE("flow at the foot rises as the pipe fills from empty") {
  Drain drain = gathering_pipe(20);
  const std::vector<double> exact = {0.27793e-3, 0.74175e-3, 1.30773e-3, 1.94429e-3, 2.63063e-3};
  for (int k = 1; k <= 250; ++k) {
    gather(drain, 0.1);
    if (k % 50) continue;
    // At 25 s the front of the steady flow is 1.4 m from the foot, over which the scheme spreads it.
    const double tolerance = k == 250 ? 0.03 : 0.02;
    CHECK_THAT(drain.outlet_flow(0), WithinRel(exact[k / 50 - 1], tolerance));
    figures::record("drain", "pipe that gathers, from empty", "flow at its foot, L/s",
                    (exact[k / 50 - 1]) * 1e3, (drain.outlet_flow(0)) * 1e3, figures::share(tolerance));
  }
}
