#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <stdexcept>

#include <lowspot/base/error.hpp>
#include <lowspot/drain/drain.hpp>
#include <lowspot/drain/pipe_section.hpp>

#include "books.hpp"
#include "catch.hpp"

using namespace lowspot;
using namespace lowspot::drain;
using namespace lowspot::drain::testing;

namespace {

double sum(std::span<const double> values) {
  return std::accumulate(values.begin(), values.end(), 0.0);
}

} // namespace

TEST_CASE("a dry drain stays dry") {
  Books books(trench_and_carrier());
  const Outcome outcome = books.run(3600);
  CHECK(books.drain.stored() == 0);
  CHECK(sum(outcome.outlet_volume) == 0);
  CHECK(books.drain.run_state(0).limit == Limit::nothing);
  CHECK(books.drain.fitting_level(0) == 99.4);
}

TEST_CASE("steady inflow leaves by the outlet, and the drain empties afterwards") {
  Books books(trench_and_carrier());
  std::fill(books.cap.begin(), books.cap.begin() + 20, 5e-5);
  for (int k = 0; k < 240; ++k) books.run(30);
  CHECK_THAT(books.drain.outlet_flow(0), WithinRel(1e-3, 1e-6));
  CHECK_THAT(books.drain.run_state(1).foot_flow, WithinRel(1e-3, 1e-6));
  CHECK_THAT(books.misfit(), WithinAbs(0, 1e-12 * books.handled));
  std::fill(books.cap.begin(), books.cap.end(), 0.0);
  for (int k = 0; k < 48; ++k) books.run(1800);
  CHECK_THAT(books.drain.stored(), WithinAbs(0, 1e-3));
  CHECK_THAT(books.misfit(), WithinAbs(0, 1e-12 * books.handled));
  CHECK(books.risen == 0);
}

TEST_CASE("a solid carrier takes nothing and gives nothing to soil or ground") {
  Books books(trench_and_carrier());
  std::vector<double> capacity(books.drain.stations().size()), available(capacity.size());
  std::fill(books.ponded.begin(), books.ponded.end(), 0.02);
  books.drain.cap_capacity(books.ponded, 30, capacity);
  books.drain.available_for_soil(30, available);
  for (std::size_t i = 0; i < capacity.size(); ++i) {
    CHECK((capacity[i] > 0) == (books.drain.stations()[i].run == 0));
    if (books.drain.stations()[i].run == 1) {
      CHECK(available[i] == 0);
      CHECK(books.drain.wall_conductance(static_cast<int>(i), 1e-5, 0.3, 0.15) == 0);
    }
  }
}

TEST_CASE("a tee merges two runs") {
  Layout layout = trench_and_carrier();
  Run side = straight_run("side", 0, 0, 99.5, 99.4);
  side.path = {{10, 8}, {10, 0}};
  side.to = "tee";
  layout.runs.push_back(side);
  Books books(layout);
  for (std::size_t i = 0; i < books.cap.size(); ++i)
    if (books.drain.stations()[i].run != 1) books.cap[i] = books.drain.stations()[i].length * 1e-4;
  for (int k = 0; k < 240; ++k) books.run(30);
  CHECK_THAT(books.drain.outlet_flow(0), WithinRel(1.8e-3, 1e-6));
  // What enters the carrier came out of the two legs, by pipe or through the stone around the tee.
  CHECK_THAT(books.drain.run_state(0).foot_flow + books.drain.run_state(2).foot_flow,
             WithinRel(1.8e-3, 1e-6));
}

TEST_CASE("water above an outlet's level backs up, and none comes in") {
  Layout layout = trench_and_carrier();
  layout.outlets[0].kind = OutletKind::submerged;
  layout.outlets[0].level = 99.7;
  Books books(layout);
  books.run(3600);
  CHECK(books.drain.stored() == 0); // a flap keeps the outside water out
  std::fill(books.cap.begin(), books.cap.begin() + 20, 5e-5);
  for (int k = 0; k < 240; ++k) books.run(30);
  CHECK_THAT(books.drain.outlet_flow(0), WithinRel(1e-3, 1e-6));
  for (int i = 0; i < 20; ++i) CHECK(books.drain.stone_level()[i] > 99.7);
  CHECK(books.drain.run_state(1).surcharged);
  CHECK(books.drain.run_state(1).limit == Limit::outlet);
  std::fill(books.cap.begin(), books.cap.end(), 0.0);
  for (int k = 0; k < 100; ++k) books.run(600);
  for (int i = 0; i < 20; ++i) CHECK_THAT(books.drain.stone_level()[i], WithinAbs(99.7, 2e-3));
  CHECK_THAT(books.misfit(), WithinAbs(0, 1e-12 * books.handled));
}

TEST_CASE("a pop-up stays closed until its opening head") {
  Layout layout = trench_and_carrier();
  layout.outlets[0].kind = OutletKind::pop_up;
  layout.outlets[0].opening_head = 0.15;
  Books books(layout);
  books.pipe[books.pipe.size() - 1] = 1e-4;
  books.run(300); // 30 litres in ten metres of pipe that hold 79
  CHECK(books.left == 0);
  for (int k = 0; k < 100; ++k) books.run(60);
  CHECK_THAT(books.drain.outlet_flow(0), WithinRel(1e-4, 1e-6));
  CHECK_THAT(books.drain.pipe_level()[39], WithinAbs(99.35, 2e-3));
}

TEST_CASE("a surcharged pipe fills the stone and comes out through the cap by itself") {
  Layout layout = trench_and_carrier();
  Books books(layout);
  books.pipe[0] = 12e-3; // far more than the pipe carries
  for (int k = 0; k < 120; ++k) books.run(30);
  CHECK(books.risen > 1);
  CHECK(books.drain.run_state(0).surcharged);
  CHECK(books.drain.run_state(0).highest_level > 100.0);
  CHECK_THAT(books.misfit(), WithinAbs(0, 1e-12 * books.handled));
  CHECK(books.drain.outlet_flow(0) > books.drain.full_flow_capacity(1) * 0.99);
}

// Ten metres that fall by 0.1 m, two that rise by 0.04, eight that fall by 0.1: from the head on 0.06 m in
// the first twelve, which is less than 0.16 in all twenty.
TEST_CASE("a belly carries what comes through it with the grade line up to the crown of the head") {
  Layout layout;
  layout.runs = {solid_run("as dug", 0, 20, 99.5, 99.4)};
  layout.runs[0].path = {{0, 0}, {10, 0}, {12, 0}, {20, 0}};
  layout.runs[0].inverts = {99.5, 99.4, 99.44, 99.4};
  layout.runs[0].to = "end";
  layout.outlets = {{"end", OutletKind::daylight, {20, 0}}};
  layout.station_spacing = 0.1;
  layout.as_built = true;
  const double capacity = Drain(layout, level_ground).full_flow_capacity(0);
  CHECK_THAT(capacity, WithinRel(full_flow(0.1, 0.015, 0.005), 1e-12));
  const auto over_crown = [&](double share) {
    Books books(layout);
    books.pipe[0] = share * capacity;
    for (int k = 0; k < 200; ++k) books.run(10);
    CHECK_THAT(books.drain.outlet_flow(0), WithinRel(share * capacity, 1e-6));
    return books.drain.pipe_level()[0] - (books.drain.stations()[0].invert + 0.1);
  };
  CHECK(over_crown(0.9) < 0);
  CHECK(over_crown(1.1) > 0);
  // A run that rises from its head on carries nothing until water stands over that.
  layout.runs[0].inverts = {99.4, 99.45, 99.44, 99.34};
  CHECK(Drain(layout, level_ground).full_flow_capacity(0) == 0);
  // All of it falls: the least fall counts, 0.04 m in two.
  layout.runs[0].inverts = {99.5, 99.2, 99.16, 99.0};
  CHECK_THAT(Drain(layout, level_ground).full_flow_capacity(0),
             WithinRel(full_flow(0.1, 0.015, 0.02), 1e-12));
}

TEST_CASE("the cap limits where water stands on it and the stone below is not full") {
  Layout layout = trench_and_carrier();
  layout.runs[0].cap = {2e-6, 0.1};
  Books books(layout);
  std::fill(books.ponded.begin(), books.ponded.end(), 0.05);
  std::vector<double> capacity(books.cap.size());
  for (int k = 0; k < 60; ++k) {
    books.drain.cap_capacity(books.ponded, 60, capacity);
    CHECK_THAT(capacity[3], WithinRel(2e-6 * 0.3 * 0.5 * 1.5, 1e-9));
    books.cap = capacity;
    books.run(60);
  }
  CHECK(books.drain.run_state(0).limit == Limit::cap);
  CHECK(limit_name(Limit::cap) == "cap");
}

TEST_CASE("the cap never takes more than the stone has room for") {
  Layout layout = trench_and_carrier();
  layout.runs[0].cap = {0, 0}; // open stone, which could swallow far more than the pipe carries
  Books books(layout);
  std::fill(books.ponded.begin(), books.ponded.end(), 0.03);
  std::vector<double> capacity(books.cap.size());
  for (int k = 0; k < 400; ++k) {
    books.drain.cap_capacity(books.ponded, 30, capacity);
    books.cap = capacity;
    books.run(30);
    for (int i = 0; i < 20; ++i) REQUIRE(books.drain.stone_level()[i] < 100.0 + 0.05);
  }
  // In the end what enters is what leaves.
  CHECK_THAT(sum(capacity), WithinRel(books.drain.outlet_flow(0), 0.05));
  CHECK(books.risen < 1e-3 * books.came_in);
}

TEST_CASE("the soil takes what was promised, exactly") {
  Layout layout = trench_and_carrier();
  Books books(layout);
  std::fill(books.cap.begin(), books.cap.begin() + 20, 2e-4);
  books.run(300);
  std::fill(books.cap.begin(), books.cap.end(), 0.0);
  std::vector<double> available(books.cap.size());
  for (int k = 0; k < 20; ++k) {
    books.drain.available_for_soil(60, available);
    for (std::size_t i = 0; i < available.size(); ++i) books.soil[i] = -available[i] / 60;
    books.run(60);
    for (double level : books.drain.stone_level()) REQUIRE(std::isfinite(level));
  }
  CHECK_THAT(books.misfit(), WithinAbs(0, 1e-12 * books.handled));
  books.soil.assign(books.soil.size(), -1e-3);
  CHECK_THROWS_AS(books.run(60), NumericsError);
}

TEST_CASE("water on the trench bottom is lost to depth at unit gradient") {
  Layout layout = trench_and_carrier();
  layout.runs[0].bottom_conductivity = 1e-6;
  layout.runs[0].bedding = 0.1;
  Books books(layout);
  std::fill(books.cap.begin(), books.cap.begin() + 20, 2e-5);
  books.run(600); // 12 L a station of 0.5 m: 0.21 m of water over 0.1 m of bedding
  std::fill(books.cap.begin(), books.cap.end(), 0.0);
  for (int k = 0; k < 12; ++k) books.run(600);
  const double before = books.lost;
  books.run(600);
  CHECK_THAT(books.lost - before, WithinRel(1e-6 * 0.3 * 10 * 600, 1e-9));
}

TEST_CASE("the wall is fabric and soil in series") {
  Layout layout = trench_and_carrier();
  layout.runs[0].fabric = {1.0, 4.0};
  const Drain drain(layout, level_ground);
  // Both sides: soil 2 * 1e-5 * 0.3 / (0.2 / 4), fabric 2 * (1 / 4) * 0.3.
  const double soil = 1.2e-4, fabric = 0.15;
  CHECK_THAT(drain.wall_conductance(2, 1e-5, 0.3, 0.2), WithinRel(soil * fabric / (soil + fabric), 1e-12));
}

TEST_CASE("what lies under a building takes nothing through its cap") {
  Layout layout = trench_and_carrier();
  layout.runs[0].cap = {1e-5, 0.1};
  Drain drain(layout, level_ground);
  std::vector<double> ponded(drain.stations().size(), 0.05), all(ponded.size()), half(ponded.size());
  drain.cap_capacity(ponded, 30, all);
  std::vector<double> open(ponded.size(), 0.5);
  open[3] = 0;
  drain.lay_open(open);
  drain.cap_capacity(ponded, 30, half);
  for (std::size_t i = 0; i < 20; ++i) CHECK_THAT(half[i], WithinAbs(open[i] * all[i], 1e-15));
  CHECK(all[2] > 0);
  CHECK_THROWS_AS(drain.lay_open(std::vector<double>(3, 1.0)), std::invalid_argument);
}

// Uphill 3 L/min come in and downhill 2.4 go out again: fabric passes the 3, over 0.1 m of one wall, half of
// both.
TEST_CASE("fabric holds back what comes through it, whatever the other wall takes") {
  Layout layout = trench_and_carrier();
  layout.runs[0].fabric = {1e-2, 1};
  Drain drain(layout, level_ground);
  std::vector<double> net(drain.stations().size(), 0.0), gives = net, wall = net;
  net[4] = 0.6e-3 / 60, gives[4] = 3e-3 / 60, wall[4] = 0.05;
  Inflows inflows;
  inflows.from_soil = net, inflows.soil_gives = gives, inflows.soil_wall = wall;
  drain.advance(1, inflows, {});
  const double length = drain.stations()[4].length;
  CHECK_THAT(drain.run_state(0).losses.fabric, WithinRel(3e-3 / 60 / (2 * 1e-2 * length * 0.05), 1e-9));
  inflows.soil_gives = {};
  drain.advance(1, inflows, {});
  CHECK_THAT(drain.run_state(0).losses.fabric, WithinRel(0.6e-3 / 60 / (2 * 1e-2 * length * 0.05), 1e-9));
}

TEST_CASE("faults in a layout stop the drain with the name of the run") {
  Layout layout = trench_and_carrier();
  layout.runs[1].inverts = {99.4, 99.5};
  CHECK_THROWS_AS(Drain(layout, level_ground), InputError);
}

TEST_CASE("times and inflows that are no numbers are refused") {
  Drain drain(trench_and_carrier(), level_ground);
  const std::size_t n = drain.stations().size();
  const std::vector<double> none(n, 0.0);
  for (const double bad : {std::nan(""), std::numeric_limits<double>::infinity()}) {
    std::vector<double> spoilt = none;
    spoilt[1] = bad;
    CHECK_THROWS_AS(drain.advance(bad, {none, none, none}, none), std::invalid_argument);
    CHECK_THROWS_AS(drain.advance(1, {spoilt, none, none}, none), std::invalid_argument);
    CHECK_THROWS_AS(drain.advance(1, {none, spoilt, none}, none), std::invalid_argument);
    CHECK_THROWS_AS(drain.advance(1, {none, none, spoilt}, none), std::invalid_argument);
    CHECK_THROWS_AS(drain.advance(1, {none, none, none}, spoilt), std::invalid_argument);
  }
  CHECK(drain.stored() == 0);
}

TEST_CASE("what passed the foot of a run is what came in less what it holds, however the flow changed") {
  Books books(trench_and_carrier());
  double in = 0;
  for (int k = 0; k < 80; ++k) {
    const double each = k < 50 ? 4e-5 * (1 + std::sin(0.7 * k)) : 0;
    std::fill(books.cap.begin(), books.cap.begin() + 20, each);
    in += 20 * each * 30;
    books.run(30);
  }
  const RunState leg = books.drain.run_state(0), carrier = books.drain.run_state(1);
  REQUIRE(books.risen + books.lost == 0);
  REQUIRE(leg.volume_out > 0.9 * in);
  CHECK_THAT(leg.volume_out, WithinRel(in - leg.stored, 1e-12));
  // All that has passed the foot of the carrier and has not left is in the pot at its end.
  const double pots = books.drain.stored() - leg.stored - carrier.stored;
  CHECK(carrier.volume_out >= books.left);
  CHECK(carrier.volume_out <= books.left + pots + 1e-15);
}

TEST_CASE("stone alone gives a dry well what came in less what the stone holds") {
  Layout layout = trench_and_carrier();
  layout.runs.resize(1);
  layout.fittings.clear();
  layout.runs[0].pipe = {};
  layout.runs[0].to = "end";
  layout.outlets[0].kind = OutletKind::dry_well;
  layout.outlets[0].at = {10, 0};
  layout.outlets[0].chamber = {1, 98.4, 99.4};
  layout.outlets[0].mouth = Mouth{100, 1.2, 0.045, 0, true, {{10, 0}}};
  Books books(layout);
  std::fill(books.cap.begin(), books.cap.end(), 2e-5);
  for (int k = 0; k < 40; ++k) books.run(30);
  const RunState run = books.drain.run_state(0);
  CHECK(run.foot_flow > 0);
  REQUIRE(books.drain.outlet_stored(0) > 0.1);
  CHECK_THAT(run.volume_out, WithinRel(books.came_in - run.stored, 1e-12));
  CHECK_THAT(run.volume_out, WithinRel(books.drain.outlet_stored(0), 1e-12));
}
