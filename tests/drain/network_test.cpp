#include <lowspot/drain/network.hpp>

#include <algorithm>
#include <vector>

#include "catch.hpp"
#include "layouts.hpp"

using namespace lowspot::drain;
using namespace lowspot::drain::testing;

TEST_CASE("a trench and a carrier make the stores and passages they should") {
  const Network network = make_network(trench_and_carrier(), level_ground);
  CHECK(network.stations.size() == 40);
  CHECK(network.stones.size() == 20);
  CHECK(network.pipes.size() == 40);
  CHECK(network.places.size() == 2);
  CHECK(network.unknowns == 62);
  CHECK(network.slots.size() == 20);
  CHECK(network.stone_ties.size() == 19);
  CHECK(network.pipe_reaches.size() == 19 + 19 + 3);
  REQUIRE(network.free_ends.size() == 1);
  CHECK_THAT(network.free_ends[0].bed_slope, WithinRel(0.02, 1e-9));
  CHECK_THAT(network.stones[0].area, WithinRel(0.38 * 0.3 * 0.5, 1e-12));
}

TEST_CASE("stone goes on across a fitting between two trenches") {
  Layout layout = trench_and_carrier();
  layout.runs[1].has_trench = true;
  layout.runs[1].trench_width = 0.2;
  layout.runs[1].stone.conductivity = 0.01;
  const Network network = make_network(layout, level_ground);
  REQUIRE(network.stone_ties.size() == 39);
  CHECK(network.stone_ties.back().reach.width == 0.2);
  CHECK(network.stone_ties.back().reach.conductivity == 0.01);
}

TEST_CASE("what holds an outlet") {
  Layout layout = trench_and_carrier();
  const auto held = [&] {
    const Network network = make_network(layout, level_ground);
    const PlaceStore& place = network.places[network.free_ends[0].place];
    return place.level + place.lift;
  };
  CHECK(held() < -1e300);
  layout.outlets[0].kind = OutletKind::pop_up;
  layout.outlets[0].opening_head = 0.1;
  CHECK_THAT(held(), WithinRel(99.3, 1e-12));
  layout.outlets[0].kind = OutletKind::submerged;
  layout.outlets[0].level = 99.6;
  CHECK(held() == 99.6);
}

TEST_CASE("a trench without a pipe ends in its outlet") {
  Layout layout;
  Run run = straight_run("stone", 0, 5, 99.4, 99.3);
  run.pipe.diameter = 0;
  run.bedding = 0.1;
  run.to = "end";
  layout.runs = {run};
  layout.outlets = {{"end", OutletKind::daylight, {5, 0}}};
  const Network network = make_network(layout, level_ground);
  CHECK(network.pipes.empty());
  REQUIRE(network.stone_ends.size() == 1);
  CHECK_THAT(network.stone_ends[0].reach.bottom_b, WithinRel(99.2, 1e-12));
}

// Two pipes at one open outlet, one half a metre over the other, and one as low as the first: each runs out
// at its own depth, however much comes out beside it, and each is held by a level outside.
TEST_CASE("pipes that end side by side at an open outlet leave each other alone") {
  Layout layout;
  layout.runs = {solid_run("high", 0, 10, 99.7, 99.5), solid_run("low", 20, 10, 99.1, 99.0),
                 solid_run("wide", 20, 10, 99.1, 99.0)};
  layout.runs[2].path[0] = {10, 10};
  layout.runs[2].pipe.diameter = 0.2;
  for (Run& run : layout.runs) run.to = "end";
  layout.outlets = {{"end", OutletKind::daylight, {10, 0}}};
  const std::vector<double> flow = {2e-3, 1e-3, 4e-3};
  const auto steady = [&](const std::vector<double>& outside) {
    Drain drain(layout, level_ground);
    std::vector<double> in(drain.stations().size(), 0.0), none(in.size(), 0.0);
    for (std::size_t i = 0; i < in.size(); ++i)
      if (drain.stations()[i].distance < 0.5) in[i] = flow[drain.stations()[i].run];
    for (int k = 0; k < 200; ++k) drain.advance(5, {none, none, in}, none, {}, outside);
    CHECK_THAT(drain.outlet_flow(0), WithinRel(7e-3, 1e-6));
    return drain;
  };
  const Drain free = steady({});
  for (int r = 0; r < 3; ++r) {
    const Run& run = layout.runs[r];
    const double slope = (run.inverts[0] - run.inverts[1]) / 10, d = run.pipe.diameter;
    CAPTURE(r);
    CHECK_THAT(free.run_state(r).foot_flow, WithinRel(flow[r], 1e-6));
    CHECK_THAT(free.run_state(r).foot_depth,
               WithinRel(std::min(normal_depth(d, 0.015, slope, flow[r]), critical_depth(d, flow[r])), 1e-3));
  }
  const Drain standing = steady({99.08});
  CHECK_THAT(standing.run_state(0).foot_depth, WithinRel(free.run_state(0).foot_depth, 1e-3));
  CHECK_THAT(standing.run_state(1).foot_depth, WithinAbs(0.08, 1e-3));
  CHECK_THAT(standing.run_state(2).foot_depth, WithinAbs(0.08, 1e-3));
  layout.outlets[0].kind = OutletKind::submerged;
  layout.outlets[0].times = {0, 100};
  layout.outlets[0].levels = {98, 99.55};
  const Drain under = steady({});
  CHECK_THAT(under.run_state(0).foot_depth, WithinAbs(0.05, 1e-3));
  CHECK_THAT(under.run_state(1).foot_depth, WithinAbs(0.1, 1e-3));
  CHECK_THAT(under.run_state(2).foot_depth, WithinAbs(0.2, 1e-3));
}
