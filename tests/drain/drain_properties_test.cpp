// What holds for every drain.
#include <algorithm>
#include <cmath>
#include <numeric>
#include <random>

#include <lowspot/drain/drain.hpp>

#include "books.hpp"
#include "catch.hpp"

using namespace lowspot;
using namespace lowspot::drain;
using namespace lowspot::drain::testing;

TEST_CASE("any layout and any load: mass closes, levels are finite, no store is negative") {
  std::mt19937 random(20240607);
  const auto between = [&](double low, double high) {
    return std::uniform_real_distribution<>(low, high)(random);
  };
  for (int trial = 0; trial < 40; ++trial) {
    Layout layout;
    layout.station_spacing = between(0.3, 2);
    const double tee = between(98.8, 99.5), foot = tee - between(0, 0.6);
    const int legs = 1 + trial % 3;
    for (int leg = 0; leg < legs; ++leg) {
      Run run = straight_run("leg " + std::to_string(leg), -between(1, 15), 0, tee + between(0, 0.4), tee);
      run.pipe.diameter = between(0.05, 0.2);
      run.pipe.slot_area = between(0, 4e-3);
      run.bedding = between(0, 0.1);
      run.bottom_conductivity = between(0, 1e-5);
      run.cap = {between(0, 0.05), trial % 4 ? between(0.01, 0.1) : 0.0};
      run.to = "tee";
      layout.runs.push_back(run);
    }
    Run carrier = trial % 2 ? solid_run("carrier", 0, between(2, 20), tee, foot)
                            : straight_run("carrier", 0, between(2, 20), tee, foot);
    carrier.from = "tee";
    carrier.to = "end";
    layout.runs.push_back(carrier);
    layout.fittings = {{"tee", {0, 0}}};
    layout.outlets = {{"end", static_cast<OutletKind>(trial % 3), carrier.path.back()}};
    layout.outlets[0].level = foot + between(-0.1, 0.4);
    layout.outlets[0].opening_head = between(0, 0.3);
    Books books(layout);
    std::vector<double> available(books.cap.size());
    for (int k = 0; k < 60; ++k) {
      const double dt = std::exp(between(0, 7));
      const bool wet = k < 40;
      books.drain.available_for_soil(dt, available);
      for (std::size_t i = 0; i < books.cap.size(); ++i) {
        const bool trenched = books.drain.stations()[i].trench_width > 0;
        books.cap[i] = wet && trenched ? between(0, 3e-4) : 0;
        books.soil[i] = trenched ? (k % 2 ? between(0, 1e-5) : -between(0, 1) * available[i] / dt) : 0;
        books.pipe[i] = wet && between(0, 1) < 0.1 ? between(0, 2e-3) : 0;
        books.ponded[i] = wet ? between(0, 0.05) : 0;
      }
      books.run(dt);
      for (double level : books.drain.stone_level()) REQUIRE((level >= foot - 0.2 && level < 110));
      for (double level : books.drain.pipe_level()) REQUIRE((level >= foot - 1e-9 && level < 150));
      for (std::size_t r = 0; r < layout.runs.size(); ++r)
        REQUIRE(books.drain.run_state(static_cast<int>(r)).stored >= -1e-8);
    }
    INFO("trial " << trial);
    REQUIRE_THAT(books.misfit(), WithinAbs(0, 1e-12 * books.handled));
  }
}

TEST_CASE("half the step changes little") {
  const auto peak = [](double dt) {
    Books books(trench_and_carrier());
    double most = 0;
    for (double t = 0; t < 3600; t += dt) {
      const double rate = t < 1800 ? 1.2e-4 * std::sin(t / 1800 * 3.14159265) : 0;
      std::fill(books.cap.begin(), books.cap.begin() + 20, rate);
      books.run(dt);
      most = std::max(most, books.drain.outlet_flow(0));
    }
    return std::pair(most, books.left);
  };
  const auto [coarse_peak, coarse_volume] = peak(30);
  const auto [fine_peak, fine_volume] = peak(15);
  CHECK_THAT(coarse_peak, WithinRel(fine_peak, 0.01));
  CHECK_THAT(coarse_volume, WithinRel(fine_volume, 0.01));
}

TEST_CASE("moving a drain up by 200 m changes nothing") {
  const auto run = [](double lift) {
    Layout layout = trench_and_carrier();
    for (Run& r : layout.runs)
      for (double& z : r.inverts) z += lift;
    Drain drain(layout, [lift](Point) { return 100.0 + lift; });
    std::vector<double> cap(drain.stations().size(), 0.0), none(cap.size(), 0.0);
    std::fill(cap.begin(), cap.begin() + 20, 1e-4);
    for (int k = 0; k < 40; ++k) drain.advance(30, {cap, none, none}, none);
    return std::pair(drain.outlet_flow(0), drain.stored());
  };
  const auto low = run(0), high = run(200);
  CHECK_THAT(high.first, WithinRel(low.first, 1e-6));
  CHECK_THAT(high.second, WithinRel(low.second, 1e-6));
}

TEST_CASE("pipes of two sizes that end at one outlet settle where the smaller one runs full") {
  Layout layout;
  layout.runs = {solid_run("wide", 0, 12, 99.637, 99.633), solid_run("narrow", 24, 12, 99.791, 99.633)};
  layout.runs[0].pipe.diameter = 0.16;
  layout.runs[1].pipe.diameter = 0.0433;
  for (Run& run : layout.runs) run.to = "end";
  layout.outlets = {{"end", OutletKind::daylight, {12, 0}}};
  Books books(layout);
  // Slowly up through the crown of the narrow pipe.
  for (double flow = 1e-3; flow < 6e-3; flow *= 1.02) {
    books.pipe[0] = flow;
    for (int k = 0; k < 4; ++k) books.run(30);
  }
  for (int k = 0; k < 40; ++k) books.run(30);
  const double before = books.left;
  for (int k = 0; k < 20; ++k) books.run(30);
  CHECK_THAT(books.left - before, WithinRel(books.pipe[0] * 600, 1e-3));
  CHECK_THAT(books.misfit(), WithinAbs(0, 1e-12 * books.handled));
}

TEST_CASE("stone and pipe that lie above the ground give no water that they do not hold") {
  Layout layout = trench_and_carrier();
  layout.taps = {{"gutter", "leg", {2, 0}, Mouth{99.0, 0.25, 0.005, 0, false, {{2, 0}}}}};
  layout.fittings[0].mouth = Mouth{99.0, 0.3, 0.008, 0, false, {{10, 0}}};
  Books books(layout, [](Point) { return 99.0; });
  const Outcome outcome = books.run(600);
  CHECK(std::accumulate(outcome.to_surface.begin(), outcome.to_surface.end(), 0.0) == 0);
  CHECK(std::accumulate(outcome.from_mouth.begin(), outcome.from_mouth.end(), 0.0) == 0);
  CHECK(books.drain.stored() == 0);
}

TEST_CASE("a pump starts and stops within a millimetre or two of its levels, also after a rest") {
  Layout layout = trench_and_carrier();
  Outlet& pump = layout.outlets[0];
  pump.kind = OutletKind::pump;
  pump.chamber = {0.2, 98.2, 100};
  pump.mouth = Mouth{100, 1, 0.1, 0, true, {{20, 0}}};
  pump.pump = {4e-3, 98.8, 98.4, 0, 0};
  for (const double inflow : {2e-4, 1e-3, 3e-3}) {
    Drain drain(layout, level_ground);
    std::vector<double> pipe(drain.stations().size(), 0.0), none(pipe.size(), 0.0);
    drain.advance(7200, {none, none, none}, none); // the step grows long
    double highest = 0, lowest = 1e9;
    bool started = false;
    pipe.back() = inflow;
    for (double t = 0; t < 3600; t += 0.5) {
      drain.advance(0.5, {none, none, pipe}, none);
      const double level = drain.outlet_level(0);
      highest = std::max(highest, level);
      started = started || drain.outlet_flow(0) > 0;
      if (started) lowest = std::min(lowest, level);
    }
    CHECK(started);
    CHECK(highest < 98.8 + 0.002 + 0.5 * inflow / 0.2);
    CHECK(lowest > 98.4 - 0.002 - 0.5 * 4e-3 / 0.2);
    // In one long interval the steps within it meet the levels by themselves: never fuller than a switch
    // late.
    Drain once(layout, level_ground);
    once.advance(7200, {none, none, none}, none);
    once.advance(0.97 * 0.6 * 0.2 / inflow, {none, none, pipe}, none);
    CHECK(once.outlet_level(0) < 98.802);
  }
}
