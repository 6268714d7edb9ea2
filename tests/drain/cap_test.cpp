#include <lowspot/drain/cap.hpp>

#include "catch.hpp"
#include "layouts.hpp"

using namespace lowspot::drain;
using namespace lowspot::drain::testing;

namespace {

Station station() {
  Station s;
  s.length = 0.5;
  s.trench_width = 0.3;
  s.trench_bottom = 99.4;
  s.ground = 100;
  s.cap_bottom = 99.9;
  return s;
}

// What a station takes with so much water on it, the stone below full to a level.
double taken_in(const Run& run, const Station& at, double ponded, double stone_level) {
  return cap_flow(at.open * cap_conductance(run, at), run.cap.depth, ponded, at.ground + ponded - stone_level)
      .value;
}

} // namespace

TEST_CASE("the cap passes Darcy's flow down, against air or against the stone level") {
  Run run = straight_run("leg", 0, 1, 99.5, 99.4);
  run.cap = {1e-5, 0.1};
  CHECK_THAT(taken_in(run, station(), 0, 99.5), WithinRel(1e-5 * 0.15, 1e-9));
  CHECK_THAT(taken_in(run, station(), 0.05, 99.5), WithinRel(1.5e-5 * 0.15, 1e-9));
  CHECK_THAT(taken_in(run, station(), 0.05, 99.95), WithinRel(1e-5 * 0.15, 1e-9));
  CHECK(taken_in(run, station(), 0.05, 100.1) == 0);
  CHECK_THAT(cap_conductance(run, station()), WithinRel(1e-4 * 0.15, 1e-12));
}

TEST_CASE("a cap that lies half under a building takes half") {
  Run run = straight_run("leg", 0, 1, 99.5, 99.4);
  Station half = station();
  half.open = 0.5;
  for (const Cap& cap : {Cap{1e-5, 0.1}, Cap{0, 0}}) {
    run.cap = cap;
    CHECK_THAT(taken_in(run, half, 0.05, 99.5), WithinRel(0.5 * taken_in(run, station(), 0.05, 99.5), 1e-12));
  }
}

TEST_CASE("open stone passes its own conductivity at unit gradient") {
  Run run = straight_run("leg", 0, 1, 99.5, 99.4);
  run.cap = {0, 0};
  CHECK_THAT(taken_in(run, station(), 0.02, 99.5), WithinRel(0.08 * 0.15, 1e-12));
  CHECK(taken_in(run, station(), 0.02, 100.02) == 0);
}

TEST_CASE("the wall") {
  Run run = straight_run("leg", 0, 1, 99.5, 99.4);
  run.fabric = {0, 1};
  // 0.6 m of trench, less than the soil: only what is exposed counts.
  CHECK_THAT(wall_conductance_of(run, station(), 1e-5, 1.0, 0.2), WithinRel(2e-5 * 0.6 / 0.05, 1e-9));
  CHECK_THAT(wall_conductance_of(run, station(), 1e-5, 0.3, 0.2), WithinRel(2e-5 * 0.3 / 0.05, 1e-9));
  // The soil's own ground counts where the contact lies higher or lower than the middle of the trench.
  CHECK_THAT(wall_conductance_of(run, station(), 1e-5, 1.0, 0.2, 1, 99.9),
             WithinRel(2e-5 * 0.5 / 0.05, 1e-9));
  CHECK_THAT(wall_conductance_of(run, station(), 1e-5, 1.0, 0.2, 1, 100.1),
             WithinRel(2e-5 * 0.7 / 0.05, 1e-9));
  run.fabric = {1e-4, 10}; // a clogged fabric is the larger resistance
  const double fabric = 2 * 1e-5 * 0.3;
  CHECK(wall_conductance_of(run, station(), 1e-5, 0.3, 0.2) < fabric);
  CHECK(wall_conductance_of(run, station(), 1e-5, 0.3, 0.2) > 0.9 * fabric);
  run.has_trench = false;
  CHECK(wall_conductance_of(run, station(), 1e-5, 0.3, 0.2) == 0);
}

TEST_CASE("the slope of what a cap passes is that of its law") {
  for (const double depth : {0.0, 0.08})
    for (const double head : {-0.01, 0.0, 0.01, 0.04, 0.2}) {
      CAPTURE(depth, head);
      const double by_level = (cap_flow(3e-3, depth, 0.02, head + 1e-6 - 1e-9).value -
                               cap_flow(3e-3, depth, 0.02, head + 1e-9).value) /
                              -(1e-6 - 2e-9);
      CHECK_THAT(cap_flow(3e-3, depth, 0.02, head + 5e-7).slope, WithinAbs(by_level, 1e-8));
    }
  CHECK(cap_flow(3e-3, 0.08, 0.02, 0.2).value == 3e-3 * 0.1);
}
