#include "catch.hpp"
#include "simple_yard.hpp"

#include <cmath>

#include <lowspot/yard/standing_water.hpp>
#include <lowspot/yard/yard.hpp>

using namespace lowspot;

TEST_CASE("a pool stands, a jet in its own cell and a film on a slope do not") {
  SimpleYard flat = simple_yard(5, 5, 0.5, [](double, double) { return 10.0; });
  const int middle = static_cast<int>(flat.ground.grid.index(2, 2));
  Field depth(25, 0.0);
  CHECK(yard::standing_depth(flat.ground, depth, middle) == 0);
  depth[middle] = 0.05;
  CHECK(yard::standing_depth(flat.ground, depth, middle) == 0);
  depth.assign(25, 0.03);
  depth[middle] = 0.05;
  CHECK_THAT(yard::standing_depth(flat.ground, depth, middle), WithinAbs(0.03, 1e-12));
  SimpleYard slope = simple_yard(5, 5, 0.5, [](double x, double) { return 10.0 - 0.05 * x; });
  depth.assign(25, 0.02);
  CHECK(yard::standing_depth(slope.ground, depth, middle) == 0);
  for (std::size_t c = 0; c < 25; ++c) depth[c] = std::max(0.0, 10.1 - slope.ground.elevation[c]);
  CHECK_THAT(yard::standing_depth(slope.ground, depth, middle),
             WithinAbs(10.1 - slope.ground.elevation[middle], 1e-12));
}

TEST_CASE("behind a wall water stands as high as the wall, whatever lies beyond") {
  SimpleYard yard = simple_yard(5, 5, 0.5, [](double x, double) { return x > 1.5 ? 9.0 : 10.0; });
  const int cell = static_cast<int>(yard.ground.grid.index(2, 2));
  Field depth(25, 0.0);
  for (std::size_t c = 0; c < 25; ++c) depth[c] = yard.ground.elevation[c] > 9.5 ? 0.2 : 0.0;
  CHECK(yard::standing_depth(yard.ground, depth, cell) == 0);
  for (int j = 0; j < 5; ++j) yard.ground.crest_x[yard.ground.grid.x_face(3, j)] = 10.15;
  CHECK_THAT(yard::standing_depth(yard.ground, depth, cell), WithinAbs(0.15, 1e-12));
  for (int j = 0; j < 5; ++j) yard.ground.crest_x[yard.ground.grid.x_face(3, j)] = 10.5;
  CHECK_THAT(yard::standing_depth(yard.ground, depth, cell), WithinAbs(0.2, 1e-12));
}

TEST_CASE(
    "water over an outlet holds it at its level, a film over a buried one at hardly more than its rim") {
  CHECK(std::isinf(yard::level_at_outlet(10, 0, 9.9)));
  CHECK_THAT(yard::level_at_outlet(10, 0.3, 10.02), WithinAbs(10.3, 1e-12));
  CHECK_THAT(yard::level_at_outlet(10, 0.3, 9.9), WithinAbs(10.3, 1e-12));
  CHECK_THAT(yard::level_at_outlet(10, 0.01, 9.9), WithinAbs(9.93, 1e-12));
}

namespace {
// Two bowls of 3 m each side by side, a ridge between them; water is led from the west one to the east one.
SimpleYard two_bowls() {
  return simple_yard(24, 12, 0.25, [](double x, double y) {
    const double middle = x < 3 ? 1.5 : 4.5;
    return 10 + 0.1 * std::hypot(x - middle, y - 1.5) + (x < 3 ? 0.1 : 0.0);
  });
}

site::Design carrier_between(double head, double foot) {
  site::Design design;
  design.name = "drain";
  site::Run run;
  run.name = "run";
  run.path = {{1.5, 1.5}, {4.4, 1.5}};
  run.inverts = {head, foot};
  run.pipe = {"pipe", 0.1, 0.115, 0.012, 0, 0.61};
  run.has_trench = false;
  run.from = "grate";
  run.to = "outlet";
  design.runs = {run};
  site::Inlet grate;
  grate.name = "grate";
  grate.at = {1.5, 1.5};
  grate.grate = {0.3, 0.3, 0.5, 0.2};
  grate.pipe = 0.1;
  grate.sump = 0.05;
  design.inlets = {grate};
  site::Outlet outlet;
  outlet.name = "outlet";
  outlet.kind = "daylight";
  outlet.at = {4.4, 1.5};
  design.outlets = {outlet};
  return design;
}
} // namespace

// Exact: nothing flows any more once both bowls stand at one level, wherever the outlet lies under it.
TEST_CASE("an outlet in a bowl fills it to the level of the water that feeds it, and no higher") {
  SimpleYard yard = two_bowls();
  rain_at(yard, 0.09 / 1200, 1200);                        // 90 mm: 1.62 m3
  const site::Design design = carrier_between(9.95, 9.93); // under the ground of both
  yard::Yard run(yard.site, yard.ground, yard.rain, &design);
  run.advance(3 * 3600.0);
  const Grid& grid = run.ground().grid;
  const auto level = [&](double x) {
    const std::size_t c = grid.index(static_cast<int>(x / 0.25), 6);
    return run.ground().elevation[c] + run.depth()[c];
  };
  CAPTURE(level(1.5), level(4.5));
  CHECK(level(1.5) > 10.15); // water stands over grate and outlet
  CHECK_THAT(level(4.5), WithinAbs(level(1.5), 2e-3));
  CHECK(run.drain()->outlet_flow(0) < 2e-5);
  CHECK(run.drain()->outlet_level(0) > 10.15);
  CHECK(std::abs(run.closure()) < 1e-9);
}

namespace {
// The greatest change of the outlet's flow from one step to the next, once it is late [m3/s].
struct Swings : yard::Observer {
  double from = 0, before = -1, most = 0, sum = 0, time = 0;
  explicit Swings(double from_) : from(from_) {}
  void step_done(const yard::Yard&, const yard::StepFlows& flows) override {
    if (flows.start < from) return;
    const double rate = flows.outlets[0] / flows.dt;
    if (before >= 0) most = std::max(most, std::abs(rate - before));
    before = rate;
    sum += flows.outlets[0];
    time += flows.dt;
  }
};
} // namespace

// A steady leak into the west bowl comes out of the outlet, on a slope and in its own pool: the film that it
// makes neither throttles it nor makes it swing.
TEST_CASE("the water that an outlet spreads about it neither holds it back nor makes it swing") {
  for (const double fall : {0.0, 0.05}) {
    SimpleYard yard = simple_yard(24, 12, 0.25, [&](double x, double y) {
      return x < 3 ? 10.2 + 0.1 * std::hypot(x - 1.5, y - 1.5) : 9.98 - fall * (x - 3);
    });
    for (terrain::EdgeFace& edge : yard.ground.edges) edge.open = edge.side == terrain::Side::east;
    const double foot = yard.ground.elevation[yard.ground.grid.index(17, 6)] - 0.03; // a little buried
    const site::Design design = carrier_between(foot + 0.02, foot);
    yard::Options options;
    options.leaks = {{"leak", {static_cast<int>(yard.ground.grid.index(6, 6))}, 1e-3}};
    yard::Yard run(yard.site, yard.ground, yard.rain, &design, options);
    Swings swings(2400);
    run.advance(3600, &swings);
    CAPTURE(fall, swings.most, swings.sum / swings.time, run.drain()->outlet_level(0));
    CHECK_THAT(swings.sum / swings.time, WithinRel(1e-3, 0.01));
    CHECK(swings.most < 1e-4);
    CHECK(std::abs(run.closure()) < 1e-9);
  }
}
