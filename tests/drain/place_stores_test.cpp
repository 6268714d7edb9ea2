#include <cmath>
#include <limits>
#include <numeric>
#include <stdexcept>
#include <utility>

#include <lowspot/drain/mouth.hpp>
#include <lowspot/drain/place_stores.hpp>

#include "books.hpp"
#include "catch.hpp"

using namespace lowspot::drain;
using namespace lowspot::drain::testing;

namespace {

Fitting grate(const std::string& to) {
  Fitting inlet;
  inlet.name = "grate";
  inlet.at = {15, 0};
  inlet.chamber = {0.09, 99.1, 100};
  inlet.mouth = Mouth{100, 1.2, 0.045, 0, true, {{15, 0}}};
  inlet.link = {to, 99.3, 0.1, 0.61 * 0.00785 * 0.99};
  return inlet;
}

} // namespace

TEST_CASE("an inlet is a box with a mouth and a short pipe") {
  Layout layout = trench_and_carrier();
  layout.fittings.push_back(grate("carrier"));
  const Network network = make_network(layout, level_ground);
  REQUIRE(network.links.size() == 1);
  REQUIRE(network.mouths.size() == 1);
  CHECK(network.places[1].bottom == 99.1);
  CHECK(network.places[1].area == 0.09);
  CHECK(network.places[1].top == 100);
  // Never below the pipe it enters, half way down the carrier.
  CHECK_THAT(network.links[0].openings.invert, WithinAbs(99.305, 0.006));
}

TEST_CASE("what enters an inlet leaves by the outlet, less what its sump keeps") {
  Layout layout = trench_and_carrier();
  layout.fittings.push_back(grate("carrier"));
  Drain drain(layout, level_ground);
  REQUIRE(drain.mouths() == 1);
  const std::vector<double> in{1.5e-3}, none(drain.stations().size(), 0.0), dry{0.0};
  Inflows inflows;
  inflows.through_mouth = in;
  double left = 0;
  for (int k = 0; k < 60; ++k) left += drain.advance(10, inflows, none, dry).outlet_volume[0];
  CHECK_THAT(drain.outlet_flow(0), WithinRel(1.5e-3, 1e-3));
  for (int k = 0; k < 400; ++k) left += drain.advance(60, {}, none, dry).outlet_volume[0];
  CHECK_THAT(left + drain.stored(), WithinRel(0.9, 1e-12));
  // Its box passed on all but what stands in it.
  CHECK_THAT(drain.fitting_volume(1), WithinAbs(0.9 - 0.09 * (drain.fitting_level(1) - 99.1), 2e-9));
  CHECK(drain.fitting_volume(0) == 0); // a tee has no box
  // The sump, 0.2 m below the pipe, stays full.
  CHECK_THAT(drain.fitting_level(1) - 99.1, WithinAbs(0.205, 0.01));
}

// The box of a grate stands over the carrier that it leads to by what Torricelli's law asks: (Q / Cd a)2 / 2
// g.
TEST_CASE("the short pipe of a drowned inlet loses Torricelli's head") {
  Layout layout = trench_and_carrier();
  layout.fittings.push_back(grate("carrier"));
  const double area = 3.14159265358979 / 4 * 0.04 * 0.04, flow = 1.2e-3;
  layout.fittings[1].link.height = 0.04;
  layout.fittings[1].link.capacity = 0.61 * area * std::sqrt(9.81 * 0.04); // just full and free
  layout.outlets[0].kind = OutletKind::submerged;
  layout.outlets[0].level = 99.55;
  Drain drain(layout, level_ground);
  const std::vector<double> in{flow}, none(drain.stations().size(), 0.0), dry{0.0};
  Inflows inflows;
  inflows.through_mouth = in;
  for (int k = 0; k < 60; ++k) drain.advance(10, inflows, none, dry);
  double nearest = 1e9, beyond = 0;
  for (std::size_t i = 0; i < none.size(); ++i) {
    const double gap = distance(drain.stations()[i].at, layout.fittings[1].at);
    if (drain.stations()[i].run == 1 && gap < nearest) nearest = gap, beyond = drain.pipe_level()[i];
  }
  CHECK(beyond > 99.5);
  const double velocity = flow / (0.61 * area);
  CHECK_THAT(drain.fitting_level(1) - beyond, WithinRel(velocity * velocity / (2 * 9.81), 0.01));
}

TEST_CASE("an overfull carrier rises out of the inlet") {
  Layout layout = trench_and_carrier();
  layout.fittings.push_back(grate("carrier"));
  layout.outlets[0].kind = OutletKind::submerged;
  layout.outlets[0].level = 100.5;
  Drain drain(layout, level_ground);
  std::vector<double> pipe(drain.stations().size(), 0.0), none(pipe.size(), 0.0);
  pipe[0] = 2e-3;
  double up = 0;
  for (int k = 0; k < 200; ++k) {
    Inflows inflows;
    inflows.into_pipe = pipe;
    const Outcome outcome = drain.advance(30, inflows, none);
    up += outcome.from_mouth[0] + std::accumulate(outcome.to_surface.begin(), outcome.to_surface.end(), 0.0);
  }
  CHECK(drain.fitting_level(1) > 100);
  const std::vector<MouthWater> dry{{0, 1, 100, 0, 0, 0, 1}};
  std::vector<double> room(1);
  drain.mouth_capacity(dry, 10, room);
  CHECK(room[0] == 0);
  CHECK(up > 10);
  CHECK_THAT(up + drain.stored(), WithinRel(2e-3 * 6000, 1e-12));
}

TEST_CASE("a cleanout's cap lifts when the grade line has the head for it") {
  Layout layout = trench_and_carrier();
  layout.fittings[0].mouth = Mouth{100, 0.31, 0.0078, 0.15, false, {{10, 0}}};
  layout.outlets[0].kind = OutletKind::submerged;
  layout.runs[0].has_trench = false;
  layout.runs[0].trench_width = 0;
  for (double level : {100.1, 100.4}) {
    layout.outlets[0].level = level;
    Drain drain(layout, level_ground);
    std::vector<double> pipe(drain.stations().size(), 0.0), none(pipe.size(), 0.0);
    pipe[25] = 1e-4;
    Layout closed = layout;
    double up = 0;
    for (int k = 0; k < 400; ++k) {
      Inflows inflows;
      inflows.into_pipe = pipe;
      up += drain.advance(10, inflows, std::vector<double>(pipe.size(), 1.0)).from_mouth[0];
    }
    if (level < 100.15)
      CHECK(up == 0);
    else
      CHECK(up > 0.1);
  }
}

TEST_CASE("a pop-up opens above its lid, and its weep hole drains the rest") {
  Layout layout = trench_and_carrier();
  layout.outlets[0].kind = OutletKind::pop_up;
  layout.outlets[0].level = 99.35;
  layout.outlets[0].opening_head = 0.03;
  for (double hole : {0.0, 2e-5}) {
    layout.outlets[0].weep_area = hole;
    Drain drain(layout, level_ground);
    std::vector<double> pipe(drain.stations().size(), 0.0), none(pipe.size(), 0.0);
    pipe[20] = 1e-3;
    Inflows inflows;
    inflows.into_pipe = pipe;
    double first = -1;
    for (int k = 0; k < 600; ++k) {
      drain.advance(5, inflows, none);
      if (first < 0 && drain.outlet_flow(0) > 5e-4) first = drain.outlet_level(0);
    }
    CHECK(first > 99.379);
    CHECK_THAT(drain.outlet_flow(0), WithinRel(1e-3, 1e-3));
    for (int k = 0; k < 400; ++k) drain.advance(300, {}, none);
    if (hole > 0)
      CHECK(drain.outlet_level(0) < 99.21);
    else
      CHECK_THAT(drain.outlet_level(0), WithinAbs(99.38, 0.002));
  }
}

TEST_CASE("water that stands at an open outlet holds it back, is named, and lets go as it falls") {
  Layout layout = trench_and_carrier();
  Drain drain(layout, level_ground);
  CHECK_THAT(drain.outlet_rim(0), WithinAbs(99.2, 1e-12));
  std::vector<double> pipe(drain.stations().size(), 0.0), none(pipe.size(), 0.0);
  pipe[20] = 5e-4;
  Inflows inflows;
  inflows.into_pipe = pipe;
  double left = 0;
  const std::vector<double> pond{99.7}, gone{-std::numeric_limits<double>::infinity()};
  for (int k = 0; k < 60; ++k) {
    const double before = left;
    left += drain.advance(30, inflows, none, {}, pond).outlet_volume[0];
    if (drain.outlet_level(0) < 99.699) CHECK(left == before);
  }
  // Still water up to the pond's level, and then as much leaves as comes.
  CHECK_THAT(drain.outlet_level(0), WithinAbs(99.7, 1e-4));
  CHECK_THAT(drain.outlet_flow(0), WithinRel(5e-4, 1e-6));
  CHECK(drain.run_state(1).limit == Limit::outlet);
  CHECK(drain.run_state(1).losses.outlet > 0.45);
  CHECK_THAT(left + drain.stored(), WithinRel(5e-4 * 1800, 1e-12));
  for (int k = 0; k < 20; ++k) drain.advance(30, inflows, none, {}, gone);
  CHECK(drain.outlet_level(0) < 99.25);
  CHECK(drain.run_state(1).limit == Limit::nothing);
  CHECK_THROWS_AS(drain.advance(1, {}, {}, {}, std::vector<double>{std::nan("")}), std::invalid_argument);
  CHECK_THROWS_AS(drain.advance(1, {}, {}, {}, std::vector<double>(2, 99.0)), std::invalid_argument);
}

TEST_CASE("a lid under water opens at its head over that water, and the hole under it gives nothing then") {
  Layout layout = trench_and_carrier();
  layout.outlets[0].kind = OutletKind::pop_up;
  layout.outlets[0].level = 99.35;
  layout.outlets[0].opening_head = 0.03;
  layout.outlets[0].weep_area = 2e-5;
  Drain drain(layout, level_ground);
  CHECK_THAT(drain.outlet_rim(0), WithinAbs(99.35, 1e-12));
  std::vector<double> pipe(drain.stations().size(), 0.0), none(pipe.size(), 0.0);
  pipe[20] = 5e-4;
  Inflows inflows;
  inflows.into_pipe = pipe;
  const std::vector<double> pond{99.6};
  double left = 0;
  for (int k = 0; k < 400; ++k) {
    const double before = left;
    left += drain.advance(5, inflows, none, {}, pond).outlet_volume[0];
    if (drain.outlet_level(0) < 99.6) CHECK(left == before);
  }
  CHECK_THAT(drain.outlet_level(0), WithinAbs(99.63, 1e-4));
}

namespace {
// m3/s out of a full pop-up whose lid stays closed.
double weeps(const Layout& layout) {
  Drain drain(layout, level_ground);
  std::vector<double> load(drain.stations().size(), 1e-4), none(load.size(), 0.0);
  Inflows inflows;
  inflows.through_cap = load;
  for (int k = 0; k < 40; ++k) drain.advance(10, inflows, none);
  for (int k = 0; k < 10; ++k) drain.advance(1, {}, none);
  return drain.outlet_flow(0) / (0.61 * 2e-5 * std::sqrt(2 * 9.81 * (drain.outlet_level(0) - 99.2)));
}
} // namespace

TEST_CASE("the weep hole of a pop-up is there once, however many runs end at it, and without a pipe too") {
  Layout one = trench_and_carrier();
  one.runs.erase(one.runs.begin() + 1);
  one.fittings.clear();
  one.runs[0].to = "end";
  one.runs[0].inverts = {99.3, 99.2};
  one.outlets[0] = {"end", OutletKind::pop_up, {10, 0}};
  one.outlets[0].level = 100.2; // over the ground: it does not open
  one.outlets[0].weep_area = 2e-5;
  CHECK_THAT(weeps(one), WithinRel(1.0, 1e-3));
  Layout two = one;
  two.runs.push_back(straight_run("other", 20, 10, 99.4, 99.25));
  two.runs[1].to = "end";
  CHECK_THAT(weeps(two), WithinRel(1.0, 1e-3));

  Layout stone = one;
  stone.runs[0].pipe = {};
  Drain drain(stone, level_ground);
  std::vector<double> load(drain.stations().size(), 1e-4), none(load.size(), 0.0);
  Inflows inflows;
  inflows.through_cap = load;
  double left = 0;
  for (int k = 0; k < 40; ++k) left += drain.advance(10, inflows, none).outlet_volume[0];
  drain.advance(1, {}, none);
  const double level = drain.stone_level()[drain.stations().size() - 1];
  CHECK_THAT(drain.outlet_flow(0), WithinRel(0.61 * 2e-5 * std::sqrt(2 * 9.81 * (level - 99.2)), 1e-3));
  for (int k = 0; k < 2000; ++k) drain.advance(300, {}, none);
  CHECK(drain.stone_level()[drain.stations().size() - 1] < 99.22);
}

TEST_CASE("a level outside that rises and falls holds the water as it goes") {
  Layout layout = trench_and_carrier();
  layout.outlets[0].kind = OutletKind::submerged;
  layout.outlets[0].times = {0, 3600, 7200};
  layout.outlets[0].levels = {99.0, 99.7, 99.0};
  Drain drain(layout, level_ground);
  std::vector<double> pipe(drain.stations().size(), 0.0), none(pipe.size(), 0.0);
  pipe[20] = 5e-4;
  Inflows inflows;
  inflows.into_pipe = pipe;
  double left = 0;
  for (int k = 0; k < 240; ++k) {
    left += drain.advance(30, inflows, none).outlet_volume[0];
    if (k == 119) CHECK_THAT(drain.outlet_level(0), WithinAbs(99.7, 0.01));
    if (k == 89) CHECK_THAT(drain.outlet_level(0), WithinAbs(99.525, 0.01));
  }
  CHECK(drain.outlet_level(0) < 99.25);
  CHECK_THAT(left + drain.stored(), WithinRel(5e-4 * 7200, 1e-12));
}

TEST_CASE("a pump keeps its basin between on and off, and stops without power") {
  Layout layout = trench_and_carrier();
  Outlet& sump = layout.outlets[0];
  sump.kind = OutletKind::pump;
  sump.chamber = {0.16, 98.4, 100};
  sump.mouth = Mouth{100, 1.6, 0.16, 0, false, {{20, 0}}};
  sump.pump = {2e-3, 98.9, 98.6, 3600, 5400};
  Drain drain(layout, level_ground);
  std::vector<double> pipe(drain.stations().size(), 0.0), none(pipe.size(), 0.0);
  pipe[20] = 5e-4;
  Inflows inflows;
  inflows.into_pipe = pipe;
  double left = 0, up = 0, high = 0, low = 200;
  int starts = 0;
  bool ran = false;
  for (int k = 0; k < 900; ++k) {
    const Outcome outcome = drain.advance(10, inflows, none);
    left += outcome.outlet_volume[0], up += outcome.from_mouth[0];
    for (const double risen : outcome.to_surface) up += risen; // through the full trench
    if (k > 60 && k < 350) {
      high = std::max(high, drain.outlet_level(0)), low = std::min(low, drain.outlet_level(0));
      const bool runs = drain.outlet_flow(0) > 0;
      starts += runs && !ran;
      ran = runs;
    }
    if (k == 538) CHECK(drain.outlet_level(0) > 99.9);
    if (k == 538) CHECK(outcome.outlet_volume[0] == 0);
  }
  // Fills 48 L at 0.5 L/s in 96 s and empties them at 1.5 L/s in 32 s.
  CHECK(high < 98.94);
  CHECK(low > 98.57);
  CHECK(starts >= 2900 / 128 - 2);
  CHECK(starts <= 2900 / 128 + 3);
  CHECK_THAT(left + up + drain.stored(), WithinRel(5e-4 * 9000, 1e-12));
}

// Its rate would fall with the film that it draws from, and the level come to the bottom as 1 / t.
TEST_CASE("a pump that may empty its basin stops where it draws air, and the drain then rests") {
  Layout layout = trench_and_carrier();
  Outlet& sump = layout.outlets[0];
  sump.kind = OutletKind::pump;
  sump.chamber = {0.16, 98.4, 100};
  sump.mouth = Mouth{100, 1.6, 0.16, 0, false, {{20, 0}}};
  sump.pump = {2e-3, 98.9, 98.4, 0, 0};
  Drain drain(layout, level_ground);
  std::vector<double> pipe(drain.stations().size(), 0.0), none(pipe.size(), 0.0);
  pipe[20] = 5e-4;
  Inflows inflows;
  inflows.into_pipe = pipe;
  for (int k = 0; k < 60; ++k) drain.advance(10, inflows, none);
  for (int k = 0; k < 20; ++k) drain.advance(60, {}, none);
  // Whether it stopped or had not started again, it does not run on in a film.
  CHECK(drain.outlet_flow(0) == 0);
  CHECK(drain.outlet_level(0) >= 98.4 + 4e-3);
  const double stored = drain.outlet_stored(0);
  CHECK(drain.advance(7 * 86400.0, {}, none).outlet_volume[0] == 0);
  CHECK_THAT(drain.outlet_stored(0), WithinAbs(stored, 1e-4)); // what the pipe's last film brings
}

// The basin holds 0.16 m2 * 0.3 m = 48 L between on and off.
TEST_CASE("a pump fills and empties its basin in the times that its rate and the inflow give") {
  Layout layout = trench_and_carrier();
  Outlet& sump = layout.outlets[0];
  sump.kind = OutletKind::pump;
  sump.chamber = {0.16, 98.4, 100};
  sump.mouth = Mouth{100, 1.6, 0.16, 0, false, {{20, 0}}};
  sump.pump = {2e-3, 98.9, 98.6, 0, 0};
  Drain drain(layout, level_ground);
  std::vector<double> pipe(drain.stations().size(), 0.0), none(pipe.size(), 0.0);
  pipe[20] = 5e-4;
  Inflows inflows;
  inflows.into_pipe = pipe;
  for (double t = 0; t < 1000; t += 10) drain.advance(10, inflows, none); // what comes in has become steady
  std::vector<double> starts, stops, lifted_in_turn;
  double lifted = 0;
  bool ran = drain.outlet_flow(0) > 0;
  for (double t = 0.5; t < 2000; t += 0.5) {
    lifted += drain.advance(0.5, inflows, none).outlet_volume[0];
    const bool runs = drain.outlet_flow(0) > 0;
    if (runs && !ran) starts.push_back(t);
    if (!runs && ran) stops.push_back(t), lifted_in_turn.push_back(std::exchange(lifted, 0.0));
    ran = runs;
  }
  REQUIRE(starts.size() >= 14);
  REQUIRE(stops.size() >= starts.size() - 1);
  const std::size_t shift = stops[0] < starts[0] ? 1 : 0; // to the stop after a start
  for (std::size_t k = 0; k + 1 < starts.size(); ++k) {
    CAPTURE(k, starts[k], stops[k + shift], starts[k + 1]);
    // To the interval in which it is seen, half a second.
    CHECK_THAT(stops[k + shift] - starts[k], WithinAbs(48 / 1.5, 0.6));
    CHECK_THAT(starts[k + 1] - stops[k + shift], WithinAbs(48 / 0.5, 0.6));
    CHECK_THAT(lifted_in_turn[k + shift], WithinRel(0.048 / 1.5e-3 * 2e-3, 0.01));
  }
}
