// Pools that fill, spill, merge and soak away, with and without level pools between the storms.
#include <algorithm>
#include <array>
#include <cmath>

#include "catch.hpp"
#include "figures.hpp"
#include "surface/yards.hpp"

using namespace yards;

namespace {

lowspot::surface::Options with_rest(bool allowed) {
  lowspot::surface::Options options;
  options.allow_rest = allowed;
  return options;
}

// Three pits behind sills two cells wide, walled in but for the east.
Run three_pits(bool rest) {
  static constexpr std::array<double, 17> bed = {0,  0,  0,  0,  .5, .5, .2,  .2, .2,
                                                 .8, .8, .1, .1, .1, .1, .65, .65};
  Terrain terrain = rectangle(17, 6, 1, 0.03, [](double x, double) { return bed[static_cast<int>(x)]; });
  open_side(terrain, 1);
  return Run(std::move(terrain), with_rest(rest));
}

double level(const Run& run, int column) {
  return run.flow.terrain().elevation[column] + run.flow.depth()[3 * 17 + column];
}

} // namespace

// Static event times by volumes: B spills at 3.0000 h, A is full at 4.8333 h, C spills at 6.1111 h, AB
// at 9.3333 h; the levels are those of a dynamic solution, in which sills carry some millimetres of head.
TEST_CASE("Three pits in a row", "[verification][surface]") {
  for (const bool rest : {false, true}) {
    CAPTURE(rest);
    Run run = three_pits(rest);
    run.rain(60 * mm_per_hour);
    std::array<double, 4> events{};
    while (run.time < 12 * 3600 - 1) {
      run.advance(60);
      const auto first = [&](int k, bool happened) {
        if (events[k] == 0 && happened) events[k] = run.time / 3600;
      };
      first(0, level(run, 7) > 0.50);
      first(1, level(run, 1) > 0.50);
      first(2, level(run, 12) > 0.65);
      first(3, level(run, 7) > 0.80);
      if (std::lround(run.time) == 3600) {
        CHECK_THAT(level(run, 1), WithinAbs(0.0751, 0.002));
        figures::record("surface", "three pits that spill in turn", "level, m", 0.0751, level(run, 1),
                        figures::amount(0.002));
      }
      if (std::lround(run.time) == 5 * 3600) {
        CHECK_THAT(level(run, 1), WithinAbs(0.5109, 0.002));
        figures::record("surface", "three pits that spill in turn", "level, m", 0.5109, level(run, 1),
                        figures::amount(0.002));
      }
      if (std::lround(run.time) == 8 * 3600) {
        CHECK_THAT(level(run, 1), WithinAbs(0.7110, 0.002));
        figures::record("surface", "three pits that spill in turn", "level, m", 0.7110, level(run, 1),
                        figures::amount(0.002));
      }
    }
    CHECK_THAT(events[0], WithinRel(3.0000, 0.04));
    figures::record("surface", "three pits that spill in turn", "spills after, h", 3.0000, events[0],
                    figures::share(0.04));
    CHECK_THAT(events[1], WithinRel(4.8333, 0.04));
    figures::record("surface", "three pits that spill in turn", "spills after, h", 4.8333, events[1],
                    figures::share(0.04));
    CHECK_THAT(events[2], WithinRel(6.1111, 0.04));
    figures::record("surface", "three pits that spill in turn", "spills after, h", 6.1111, events[2],
                    figures::share(0.04));
    CHECK_THAT(events[3], WithinRel(9.3333, 0.04));
    figures::record("surface", "three pits that spill in turn", "spills after, h", 9.3333, events[3],
                    figures::share(0.04));
    CHECK_THAT(level(run, 1), WithinAbs(0.8049, 0.002));
    CHECK_THAT(level(run, 12), WithinAbs(0.6566, 0.002));
    CHECK_THAT(run.out, WithinRel(26.13, 0.01));
    figures::record("surface", "three pits that spill in turn", "runs off, m3", 26.13, run.out,
                    figures::share(0.01));
    // Then it drains down to the sills: 46.80 m3 stay.
    run.rain(0);
    run.advance(86400);
    CHECK_THAT(run.flow.volume(), WithinRel(46.80, 0.001));
    figures::record("surface", "three pits that spill in turn", "stays in them, m3", 46.80, run.flow.volume(),
                    figures::share(0.001));
    CHECK(run.flow.at_rest() == rest);
    CHECK(std::abs(run.misfit()) < 1e-9 * run.supplied);
  }
}

// Flat closed basin, 40 mm/h for an hour on a soil that takes 10 mm/h: 30 mm deep, dry at four hours.
TEST_CASE("Standing time in a flat basin", "[verification][surface]") {
  const std::array<double, 4> depths = {0.001, 0.005, 0.010, 0.020};
  struct Storm {
    double pause, second; // h: dry after the first hour, then rain again
    double deepest, dry;
    std::array<double, 4> hours;
  };
  for (const bool rest : {false, true})
    for (const Storm& storm : {Storm{0, 0, 30e-3, 4, {3.866667, 3.333333, 2.666667, 1.333333}},
                               Storm{1, 0.5, 35e-3, 6, {5.866667, 5.333333, 4.666667, 3.333333}}}) {
      CAPTURE(rest, storm.second);
      Run run(rectangle(8, 8, 0.5, 0.03, [](double, double) { return 0.0; }), with_rest(rest));
      run.sink.assign(run.sink.size(), 10 * mm_per_hour);
      std::array<double, 4> standing{};
      const double dt = 300;
      double before = 0, deepest = 0, dry = 0;
      for (int k = 0; k < 7 * 12; ++k) {
        const double hour = k / 12.0;
        const bool raining = hour < 1 || (hour >= 1 + storm.pause && hour < 1 + storm.pause + storm.second);
        run.rain(raining ? 40 * mm_per_hour : 0);
        run.advance(dt);
        const double now = run.flow.depth()[27];
        for (int d = 0; d < 4; ++d) { // share of the step above the depth, the change being linear
          const double a = before - depths[d], b = now - depths[d];
          const double share = a > 0 && b > 0 ? 1 : a <= 0 && b <= 0 ? 0 : std::max(a, b) / std::abs(a - b);
          standing[d] += share * dt / 3600;
        }
        deepest = std::max(deepest, now);
        if (now > 0) dry = run.time / 3600;
        before = now;
      }
      CHECK_THAT(deepest, WithinRel(storm.deepest, 1e-6));
      figures::record("surface", "flat closed basin that soaks 10 mm/h", "deepest, mm", (storm.deepest) * 1e3,
                      (deepest)*1e3, figures::share(1e-6));
      CHECK_THAT(dry + dt / 3600, WithinAbs(storm.dry, dt / 3600));
      for (int d = 0; d < 4; ++d) {
        CHECK_THAT(standing[d], WithinAbs(storm.hours[d], 1e-3));
        figures::record("surface", "flat closed basin that soaks 10 mm/h", "hours above 1 to 20 mm",
                        storm.hours[d], standing[d], figures::amount(1e-3));
      }
      CHECK(std::abs(run.misfit()) < 1e-12);
    }
}
