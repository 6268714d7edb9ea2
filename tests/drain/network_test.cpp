#include <lowspot/drain/network.hpp>

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
