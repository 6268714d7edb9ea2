#include <lowspot/surface/rest.hpp>

#include <algorithm>
#include <array>
#include <cmath>

#include "catch.hpp"
#include "yards.hpp"

using namespace lowspot::surface;
using yards::mm_per_hour;
using yards::Run;

namespace {

// Slopes with pits of some centimetres, soaking unevenly, all edges walls but the west.
Run pitted(bool rest) {
  Terrain terrain = yards::rectangle(60, 40, 0.25, 0.03, [](double x, double y) {
    return 0.01 * x + 0.05 * std::sin(1.7 * x) * std::sin(1.3 * y) + 0.01 * std::sin(6 * x + y);
  });
  for (double& storage : terrain.depression_storage) storage = 0.001;
  yards::open_side(terrain, 0);
  Options options;
  options.allow_rest = rest;
  Run run(std::move(terrain), options);
  for (std::size_t c = 0; c < run.sink.size(); ++c) run.sink[c] = (c % 60 < 30 ? 2.0 : 5.0) * mm_per_hour;
  return run;
}

double standing_cells(const Run& run, double depth) {
  return static_cast<double>(
      std::count_if(run.flow.depth().begin(), run.flow.depth().end(), [=](double h) { return h > depth; }));
}

} // namespace

TEST_CASE("Level pools sink as the dynamic solution does", "[surface]") {
  Run level = pitted(true), dynamic = pitted(false);
  for (Run* run : {&level, &dynamic}) {
    run->rain(40 * mm_per_hour);
    run->advance(1800);
    run->rain(0);
  }
  while (!level.flow.at_rest() && level.time < 4 * 3600) {
    level.advance(600);
    dynamic.advance(600);
  }
  CHECK(level.flow.at_rest());
  CHECK_FALSE(dynamic.flow.at_rest());
  const long steps = level.flow.counters().steps;
  for (int hour = 0; hour < 8; ++hour) {
    level.advance(3600);
    dynamic.advance(3600);
    CAPTURE(hour);
    double most = 0;
    for (std::size_t c = 0; c < level.supply.size(); ++c)
      most = std::max(most, std::abs(level.flow.depth()[c] - dynamic.flow.depth()[c]));
    CHECK(most < 1e-3); // films that were left where they were, and pools that come apart within a step
    CHECK_THAT(level.flow.volume(), WithinAbs(dynamic.flow.volume(), 0.01 * 1800 * 40 * mm_per_hour * 150));
    CHECK(std::abs(standing_cells(level, 0.005) - standing_cells(dynamic, 0.005)) <
          0.01 * level.supply.size());
  }
  CHECK(level.flow.counters().steps == steps);
  CHECK(level.flow.counters().resting >= 8 * 3600);
  CHECK(std::abs(level.misfit()) < 1e-12 * level.supplied);
  for (const double q : level.flow.discharge_x()) CHECK(q == 0);
}

TEST_CASE("Rain wakes resting pools, once it fills more than depressions", "[surface]") {
  Run run = pitted(true);
  CHECK(run.flow.at_rest());
  run.sink.assign(run.sink.size(), 0.0);
  run.rain(1.8 * mm_per_hour);
  run.advance(1000); // 0.5 mm of the 1 mm that depressions hold
  CHECK(run.flow.at_rest());
  CHECK(run.flow.counters().steps == 0);
  run.advance(4000);
  CHECK_FALSE(run.flow.at_rest());
  CHECK(run.out > 0);
  CHECK(std::abs(run.misfit()) < 1e-9 * run.supplied);
}

namespace {

// A pit 0.1 m deep behind a sill, in a closed yard whose other half lies lower.
Run pit_and_basin() {
  Options options;
  return Run(yards::rectangle(24, 8, 0.5, 0.03,
                              [](double x, double) {
                                return x < 4 ? 0.0 : x < 6 ? 0.02 * (x - 4) * 2.5 : x < 7 ? 0.1 : -0.5;
                              }),
             options);
}

} // namespace

TEST_CASE("A trickle raises a pool at rest until it spills", "[surface]") {
  Run run = pit_and_basin();
  run.supply[3 * 24 + 2] = 4e-5;
  run.flow.give(3 * 24 + 2, 0.05);
  run.advance(3600); // the splash settles; 0.144 m on one cell, some 4 mm on the pit
  run.advance(3600);
  const auto in_pit = [&] { return run.flow.depth()[3 * 24 + 2]; };
  CHECK(run.flow.at_rest());
  const long steps = run.flow.counters().steps;
  double before = in_pit();
  while (in_pit() < 0.09) {
    run.advance(1800);
    CHECK(in_pit() > before);
    before = in_pit();
  }
  CHECK(run.flow.at_rest());
  CHECK(run.flow.counters().steps == steps);
  // Level over the pit and its ramp, banks included as it rises.
  CHECK_THAT(run.flow.depth()[3 * 24 + 10] + 0.0625, WithinAbs(in_pit(), 1e-9));
  for (int k = 0; k < 10; ++k) run.advance(3600);
  CHECK_THAT(in_pit(), WithinAbs(0.1, 0.003)); // held by the sill
  CHECK(run.flow.depth()[3 * 24 + 20] > 0.004);
  CHECK(std::abs(run.misfit(0.05 * 0.25)) < 1e-12);
}

TEST_CASE("Water given at once flows, and then rests again", "[surface]") {
  Run run = pit_and_basin();
  CHECK(run.flow.give(3 * 24 + 13, 0.2) == 0.2); // on the sill
  CHECK_FALSE(run.flow.at_rest());
  run.advance(7200);
  CHECK(run.flow.at_rest());
  CHECK(run.flow.depth()[3 * 24 + 2] > 0);
  CHECK(run.flow.depth()[3 * 24 + 20] > 0);
  CHECK_THAT(run.flow.volume(), WithinRel(0.05, 1e-12));
}

TEST_CASE("Sheet flow on gentle ground is not taken for a pool", "[surface]") {
  // The surface falls by less from cell to cell than pools may, all the way down.
  struct Case {
    double slope, n;
  };
  for (const Case one : {Case{0.0, 0.05}, Case{0.001, 0.15}}) {
    const auto left = [&](bool allow_rest) {
      yards::Terrain terrain =
          yards::rectangle(100, 2, 0.1, one.n, [&](double x, double) { return 10 - one.slope * x; });
      yards::open_side(terrain, 1);
      Options options;
      options.allow_rest = allow_rest;
      yards::Run run(std::move(terrain), options);
      run.rain(30 * yards::mm_per_hour);
      run.advance(1800);
      run.rain(0);
      std::array<double, 2> volume = {};
      for (double& each : volume) {
        run.advance(3600);
        each = run.flow.volume();
      }
      return volume;
    };
    const auto expected = left(false), found = left(true);
    CAPTURE(one.slope);
    for (int hour = 0; hour < 2; ++hour)
      CHECK_THAT(found[hour], Catch::Matchers::WithinRel(expected[hour], 1e-3));
  }
}

TEST_CASE("A hose on gentle ground comes to normal depth", "[surface]") {
  const double slope = 0.001, n = 0.05, dx = 0.1, q = 1e-4; // m2/s
  yards::Terrain terrain = yards::rectangle(120, 2, dx, n, [&](double x, double) { return 10 - slope * x; });
  yards::open_side(terrain, 1);
  yards::Run run(std::move(terrain));
  for (const std::size_t c : {0, 120}) run.supply[c] = q / dx;
  run.advance(4 * 3600);
  const double normal = std::pow(n * q / std::sqrt(slope), 0.6); // Manning
  double out = 0;
  for (int minute = 0; minute < 10; ++minute) {
    out = run.advance(60);
    CHECK_THAT(out, Catch::Matchers::WithinRel(2 * q * dx * 60, 1e-3));
  }
  for (int i = 5; i < 115; ++i) CHECK_THAT(run.flow.depth()[i], Catch::Matchers::WithinRel(normal, 0.01));
}

TEST_CASE("A grate that begins to draw from a level pool gets only what comes to it over the ground",
          "[surface]") {
  const auto taken = [](bool allow_rest) {
    // 10 mm of still water on rough level ground inside walls, 6 m by 6 m.
    Options options;
    options.allow_rest = allow_rest;
    yards::Run run(yards::rectangle(60, 60, 0.1, 0.15, [](double, double) { return 10.0; }), options);
    for (int c = 0; c < 3600; ++c) run.flow.give(c, 0.01);
    run.advance(60);
    CHECK(run.flow.at_rest() == allow_rest);
    for (const int row : {29, 30, 31})
      for (const int column : {29, 30, 31}) run.sink[row * 60 + column] = 0.03; // 2.7 l/s in all
    run.advance(10); // parts that lay still are left out a few seconds more
    const double before = run.sunk;
    run.advance(50);
    return run.sunk - before;
  };
  const double expected = taken(false), found = taken(true);
  CHECK(expected < 0.03); // m3: a pool always level would give 0.135
  CHECK_THAT(found, Catch::Matchers::WithinRel(expected, 0.02));
}

TEST_CASE("Level ground drains to a strip at its end no faster for the rest of it standing still",
          "[surface]") {
  // Hours until 25 mm at the far end of 10 m of rough ground have fallen to 6 and to 3 mm.
  const auto hours = [](bool allow_rest) {
    Options options;
    options.allow_rest = allow_rest;
    yards::Run run(yards::rectangle(40, 1, 0.25, 0.3, [](double, double) { return 10.0; }), options);
    for (int c = 0; c < 40; ++c) run.flow.give(c, 0.025);
    run.sink[0] = run.sink[1] = 1.5e-4 / 0.5;
    std::array<double, 2> result = {};
    const std::array<double, 2> depth = {0.006, 0.003};
    for (std::size_t k = 0; k < 2; ++k)
      while (run.flow.depth()[39] > depth[k]) {
        run.advance(10);
        result[k] = run.time / 3600;
      }
    return result;
  };
  const auto expected = hours(false), found = hours(true);
  for (std::size_t k = 0; k < 2; ++k) CHECK_THAT(found[k], Catch::Matchers::WithinRel(expected[k], 0.01));
  CHECK(expected[1] > 1.5); // a level pool would be gone after 0.42 h
}
