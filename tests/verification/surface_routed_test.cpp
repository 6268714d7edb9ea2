// The routed method against exact solutions of the kinematic wave and of basins, and against the dynamic
// method on a small yard. Its steps are long and of first order, so that corners of hydrographs are rounded
// more.
#include <algorithm>
#include <array>
#include <cmath>

#include "catch.hpp"
#include "figures.hpp"
#include "surface/yards.hpp"

using namespace yards;
using lowspot::surface::Method;
using lowspot::surface::Options;

namespace {

Options routed() {
  Options options;
  options.method = Method::routed;
  return options;
}

} // namespace

// Rain of 50 mm/h for half an hour on a plane of 30 m: q = alpha (r t)^(5/3) up to te, r L after (Wooding
// 1965).
TEST_CASE("Routed: rain on a plane", "[verification][routed]") {
  const double dx = 0.25, dt = 5, alpha = 4, rain = 50 * mm_per_hour;
  Terrain terrain = rectangle(120, 8, dx, 0.025, [](double x, double) { return 1 - 0.01 * x; });
  open_side(terrain, 1);
  Run run(std::move(terrain), routed());
  const double width = 2, equilibrium = rain * 30 * width, te = 293.744;
  double worst = 0, worst_corner = 0;
  while (run.time < 1800 - 1e-6) {
    run.rain(rain);
    const double flow = run.advance(dt) / dt;
    const double exact = std::min(width * alpha * std::pow(rain * run.time, 5.0 / 3.0), equilibrium);
    const bool corner = std::abs(run.time - te) < 0.2 * te;
    double& most = corner ? worst_corner : worst;
    most = std::max(most, std::abs(flow - exact) / equilibrium);
  }
  CHECK(worst < 0.02);
  figures::record("surface", "routed: rain on a plane", "discharge, share of the steady one", worst,
                  figures::at_most(0.02));
  CHECK(worst_corner < 0.10); // the corner that a wave of first order rounds
  figures::record("surface", "routed: rain on a plane", "the same where its curve has a corner", worst_corner,
                  figures::at_most(0.10));
  CHECK_THAT(run.advance(dt) / dt, WithinRel(equilibrium, 1e-3));
  CHECK_THAT(run.flow.volume(), WithinRel(0.38248 * width / 5, 0.015));
  figures::record("surface", "routed: rain on a plane", "water on it, L", (0.38248 * width / 5) * 1e3,
                  (run.flow.volume()) * 1e3, figures::share(0.015));
  // Recession: L = q / r + alpha m h^(m - 1) (t - D).
  const std::array<std::array<double, 2>, 3> recession = {
      {{1860, 1.466949}, {1920, 1.018123}, {2040, 0.491408}}};
  run.rain(0);
  run.time = 1800;
  for (const auto& [time, exact] : recession) {
    double flow = 0;
    while (run.time < time - 1e-6) flow = run.advance(dt) / dt;
    CHECK_THAT(flow, WithinAbs(exact * 1e-3 * width / 5, 0.02 * equilibrium));
  }
  CHECK(std::abs(run.misfit()) < 1e-9 * run.supplied);
}

// A patio 8 m long runs onto a lawn of 12 m; steady depths and storage with the pressure of water in them.
TEST_CASE("Routed: patio onto lawn", "[verification][routed]") {
  const double dx = 0.25;
  Terrain terrain = rectangle(80, 6, dx, 0.15,
                              [](double x, double) { return x < 8 ? 1 - 0.01 * x : 0.92 - 0.02 * (x - 8); });
  const auto grid = terrain.grid;
  for (int j = 0; j < grid.ny; ++j)
    for (int i = 0; i < 32; ++i)
      terrain.manning_n[grid.index(i, j)] = terrain.manning_n_deep[grid.index(i, j)] = 0.025;
  open_side(terrain, 1);
  Run run(std::move(terrain), routed());
  run.rain(40 * mm_per_hour);
  double flow = 0;
  while (run.time < 2400) flow = run.advance(20) / 20;
  CHECK_THAT(flow, WithinRel(40 * mm_per_hour * 20 * 1.5, 1e-3));
  double patio = 0, lawn = 0;
  for (int i = 0; i < grid.nx; ++i)
    (i < 32 ? patio : lawn) += run.flow.depth()[grid.index(i, 3)] * dx * 6 * 1000;
  CHECK_THAT(patio, WithinRel(50.29, 0.02));
  figures::record("surface", "routed: patio onto rough lawn", "water on the patio, L", 50.29, patio,
                  figures::share(0.02));
  CHECK_THAT(lawn, WithinRel(385.90, 0.02));
  figures::record("surface", "routed: patio onto rough lawn", "water on the lawn, L", 385.90, lawn,
                  figures::share(0.02));
  const std::array<std::array<double, 2>, 6> depths = {
      {{4, 1.0744}, {7.5, 1.5694}, {8.5, 4.0092}, {10, 4.4175}, {14, 5.4007}, {19, 6.4823}}};
  for (const auto& [x, exact] : depths) {
    const int i = static_cast<int>(x / dx);
    const double h = 500 * (run.flow.depth()[grid.index(i - 1, 3)] + run.flow.depth()[grid.index(i, 3)]);
    CHECK_THAT(h, WithinRel(exact, 0.02));
    figures::record("surface", "routed: patio onto rough lawn", "depths, mm", exact, h, figures::share(0.02));
  }
}

// Two planes into a channel: Q_e = 27.333 L/s, 5.683, 18.070, 27.172 L/s at 240, 360, 480 s while it rains.
TEST_CASE("Routed: planes into a valley", "[verification][routed]") {
  const double dx = 1;
  Terrain terrain = rectangle(41, 40, dx, 0.1, [](double x, double y) {
    return x < 20 ? 0.5 + 0.02 * (20 - x) : x > 21 ? 0.5 + 0.02 * (x - 21) : 0.01 * y;
  });
  const auto grid = terrain.grid;
  for (int j = 0; j < 40; ++j)
    terrain.manning_n[grid.index(20, j)] = terrain.manning_n_deep[grid.index(20, j)] = 0.05;
  terrain.open_faces = {{20, 2}};
  Run run(std::move(terrain), routed());
  const double peak = 27.33333e-3;
  const std::array<std::array<double, 2>, 8> exact = {{{240, 5.6833},
                                                       {360, 18.0703},
                                                       {600, 27.3333},
                                                       {3600, 27.3333},
                                                       {3720, 19.5813},
                                                       {3900, 9.4236},
                                                       {4200, 3.1451},
                                                       {5400, 0.2587}}};
  for (const auto& [time, flow] : exact) {
    double now = 0;
    while (run.time < time - 1e-6) {
      run.rain(run.time < 3600 ? 60 * mm_per_hour : 0);
      now = run.advance(10) / 10;
    }
    CAPTURE(time);
    CHECK_THAT(now, WithinAbs(flow * 1e-3, (time == 3600 ? 1e-3 : 0.08) * peak));
    figures::record("surface", "routed: valley below two planes", "discharge, L/s (share of the steady one)",
                    flow, now * 1e3, figures::share(time == 3600 ? 1e-3 : 0.08, peak * 1e3));
    // Both sides alike, to the last figures.
    for (int j = 0; j < 40; j += 13)
      CHECK_THAT(run.flow.depth()[grid.index(5, j)], WithinRel(run.flow.depth()[grid.index(35, j)], 1e-10));
  }
}

// A plane that falls at 45 degrees to the grid: steady split 40 : 60, early discharges 0.67068 and 0.85811
// L/s.
TEST_CASE("Routed: slope across the grid", "[verification][routed]") {
  Terrain terrain = rectangle(40, 32, 0.5, 0.05, [](double x, double y) { return 1 - 0.0141421 * (x + y); });
  open_side(terrain, 1);
  open_side(terrain, 3);
  Run run(std::move(terrain), routed());
  run.rain(50 * mm_per_hour);
  const auto sides = [&] {
    run.advance(10);
    std::array<double, 2> flow{};
    for (std::size_t k = 0; k < run.flow.left_through().size(); ++k)
      flow[k < 32 ? 0 : 1] += run.flow.left_through()[k] / 10 * 1000;
    return flow;
  };
  std::array<double, 2> flow{};
  while (run.time < 120) flow = sides();
  CHECK_THAT(flow[0], WithinRel(0.67068, 0.03));
  CHECK_THAT(flow[1], WithinRel(0.85811, 0.03));
  while (run.time < 1500) flow = sides();
  CHECK_THAT(flow[0], WithinRel(1.777778, 0.06));
  CHECK_THAT(flow[1], WithinRel(2.666667, 0.06));
  CHECK_THAT(flow[0] + flow[1], WithinRel(4.444444, 5e-4));
}

// A plane that soaks 20 mm/h: 2476.0 L run off, 1524.0 L soak in, the outlet dries 549 s after the rain.
TEST_CASE("Routed: soaking plane", "[verification][routed]") {
  Terrain terrain = rectangle(50, 8, 0.5, 0.12, [](double x, double) { return 1 - 0.03 * x; });
  open_side(terrain, 1);
  Run run(std::move(terrain), routed());
  std::fill(run.sink.begin(), run.sink.end(), 20 * mm_per_hour);
  double dry = 0, worst = 0;
  const std::array<std::array<double, 2>, 7> exact = {{{120, 0.09325},
                                                       {240, 0.29607},
                                                       {360, 0.58193},
                                                       {2400, 1.11111},
                                                       {2460, 0.82595},
                                                       {2580, 0.41365},
                                                       {2700, 0.17045}}};
  while (run.time < 3400) {
    run.rain(run.time < 2400 ? 60 * mm_per_hour : 0);
    const double flow = run.advance(5) / 5;
    if (dry == 0 && run.time > 2400 && flow < 1e-8) dry = run.time - 2400;
    for (const auto& [time, value] : exact)
      if (std::abs(time - run.time) < 1e-6)
        worst = std::max(worst, std::abs(flow - value * 1e-3) / 1.11111e-3);
  }
  CHECK(worst < 0.03);
  CHECK_THAT(run.out, WithinRel(2.476034, 0.005));
  figures::record("surface", "routed: plane that soaks 20 mm/h", "runs off, L", (2.476034) * 1e3,
                  (run.out) * 1e3, figures::share(0.005));
  CHECK_THAT(run.sunk, WithinRel(1.523966, 0.005));
  figures::record("surface", "routed: plane that soaks 20 mm/h", "soaks in, L", (1.523966) * 1e3,
                  (run.sunk) * 1e3, figures::share(0.005));
  CHECK_THAT(dry, WithinRel(549.0, 0.05));
}

// Patio water soaks into 6.00 m of lawn whatever the friction.
TEST_CASE("Routed: run-on", "[verification][routed]") {
  const double dx = 0.25;
  Terrain terrain = rectangle(88, 4, dx, 0.15,
                              [](double x, double) { return x < 10 ? 1 - 0.01 * x : 0.9 - 0.02 * (x - 10); });
  const auto grid = terrain.grid;
  open_side(terrain, 1);
  Run run(std::move(terrain), routed());
  for (int j = 0; j < grid.ny; ++j)
    for (int i = 40; i < grid.nx; ++i) run.sink[grid.index(i, j)] = 80 * mm_per_hour;
  run.rain(30 * mm_per_hour);
  while (run.time < 7200) run.advance(20);
  double wet_to = 0;
  for (int i = 0; i < grid.nx; ++i)
    if (run.flow.depth()[grid.index(i, 1)] > 1e-5) wet_to = (i + 1) * dx;
  CHECK_THAT(wet_to, WithinAbs(16.0, 0.25));
  CHECK(run.out < 1e-6 * run.supplied);
}

// Three pits: static event times 3.0000, 4.8333, 6.1111 and 9.3333 h, volumes exact.
TEST_CASE("Routed: three pits in a row", "[verification][routed]") {
  constexpr std::array<double, 17> bed = {0, 0, 0, 0, .5, .5, .2, .2, .2, .8, .8, .1, .1, .1, .1, .65, .65};
  Terrain terrain = rectangle(17, 6, 1, 0.03, [&](double x, double) { return bed[static_cast<int>(x)]; });
  open_side(terrain, 1);
  Run run(std::move(terrain), routed());
  run.rain(60 * mm_per_hour);
  const auto level = [&](int column) { return bed[column] + run.flow.depth()[3 * 17 + column]; };
  std::array<double, 4> events{};
  while (run.time < 12 * 3600 - 1) {
    run.advance(60);
    const auto first = [&](int k, bool happened) {
      if (events[k] == 0 && happened) events[k] = run.time / 3600;
    };
    first(0, level(7) > 0.50 + 1e-9);
    first(1, level(1) > 0.50 + 1e-9);
    first(2, level(12) > 0.65 + 1e-9);
    first(3, level(7) > 0.80 + 1e-9);
  }
  CHECK_THAT(events[0], WithinRel(3.0000, 0.02));
  figures::record("surface", "routed: three pits that spill in turn", "spills after, h", 3.0000, events[0],
                  figures::share(0.02));
  CHECK_THAT(events[1], WithinRel(4.8333, 0.02));
  figures::record("surface", "routed: three pits that spill in turn", "spills after, h", 4.8333, events[1],
                  figures::share(0.02));
  CHECK_THAT(events[2], WithinRel(6.1111, 0.02));
  figures::record("surface", "routed: three pits that spill in turn", "spills after, h", 6.1111, events[2],
                  figures::share(0.02));
  CHECK_THAT(events[3], WithinRel(9.3333, 0.02));
  figures::record("surface", "routed: three pits that spill in turn", "spills after, h", 9.3333, events[3],
                  figures::share(0.02));
  // The levels and the outflow of a dynamic solution.
  CHECK_THAT(level(1), WithinAbs(0.8049, 0.002));
  CHECK_THAT(level(12), WithinAbs(0.6566, 0.002));
  CHECK_THAT(run.out, WithinRel(26.13, 0.01));
  run.rain(0);
  run.advance(86400);
  CHECK_THAT(run.flow.volume(), WithinRel(46.80, 2e-4));
  figures::record("surface", "routed: three pits that spill in turn", "stays in them, m3", 46.80,
                  run.flow.volume(), figures::share(2e-4));
  CHECK(run.flow.at_rest());
  CHECK(std::abs(run.misfit()) < 1e-9 * run.supplied);
}

// Flat closed basin, 40 mm/h for an hour on a soil that takes 10 mm/h.
TEST_CASE("Routed: standing time in a flat basin", "[verification][routed]") {
  Terrain terrain = rectangle(6, 5, 0.5, 0.05, [](double, double) { return 1.0; });
  Run run(std::move(terrain), routed());
  std::fill(run.sink.begin(), run.sink.end(), 10 * mm_per_hour);
  const std::array<double, 4> deeper = {1e-3, 5e-3, 10e-3, 20e-3};
  const std::array<double, 4> exact = {3.866667, 3.333333, 2.666667, 1.333333};
  std::array<double, 4> hours{};
  double most = 0;
  while (run.time < 5 * 3600) {
    run.rain(run.time < 3600 ? 40 * mm_per_hour : 0);
    run.advance(60);
    most = std::max(most, run.flow.depth()[7]);
    for (int k = 0; k < 4; ++k) hours[k] += run.flow.depth()[7] > deeper[k] ? 1.0 / 60 : 0;
  }
  CHECK_THAT(most, WithinAbs(0.030, 1e-9));
  for (int k = 0; k < 4; ++k) {
    CHECK_THAT(hours[k], WithinAbs(exact[k], 2.0 / 60));
    figures::record("surface", "routed: flat closed basin that soaks 10 mm/h", "hours above 1 to 20 mm",
                    exact[k], hours[k], figures::amount(2.0 / 60));
  }
  CHECK(run.flow.depth()[7] == 0);
}

// A small yard with a low spot, bumps, a patio and soaking soil: where water stands and for how long, and
// what leaves, by both methods.
TEST_CASE("Routed against dynamic on a small yard", "[verification][routed]") {
  const auto yard = [] {
    Terrain terrain = rectangle(32, 28, 0.5, 0.15, [](double x, double y) {
      const double away = std::hypot(x - 9, y - 6);
      return 0.015 * x + 0.01 * y + 0.012 * std::sin(2.1 * x) * std::cos(1.7 * y) -
             0.12 * std::exp(-away * away / 6) + 0.04 * std::exp(-(x - 4) * (x - 4) / 2);
    });
    for (int j = 18; j < 26; ++j)
      for (int i = 20; i < 30; ++i)
        terrain.manning_n[terrain.grid.index(i, j)] = terrain.manning_n_deep[terrain.grid.index(i, j)] = 0.02;
    open_side(terrain, 0);
    return terrain;
  };
  constexpr double deep = 0.005, end_of_rain = 3 * 3600;
  struct Seen {
    std::vector<double> hours, flow;
    double out = 0;
  };
  const auto watch = [&](const Options& options) {
    Run run(yard(), options);
    std::fill(run.sink.begin(), run.sink.end(), 2 * mm_per_hour);
    Seen seen;
    seen.hours.assign(run.supply.size(), 0);
    double flow = 0;
    while (run.time < 30 * 3600) {
      const bool raining = run.time < end_of_rain;
      run.rain(raining ? (run.time < 3600 ? 10 : run.time < 5400 ? 35 : 8) * mm_per_hour : 0);
      const double dt = raining || !run.flow.at_rest() ? 20 : 300;
      const double left = run.advance(std::min(dt, 300 - std::fmod(run.time, 300)));
      flow += left;
      if (std::fmod(run.time + 1e-6, 300) < 1e-3 && run.time < 6 * 3600) {
        seen.flow.push_back(flow / 300);
        flow = 0;
      }
      if (run.time > end_of_rain)
        for (std::size_t c = 0; c < seen.hours.size(); ++c)
          seen.hours[c] += run.flow.depth()[c] > deep ? dt / 3600 : 0;
    }
    seen.out = run.out;
    return seen;
  };
  const Seen dynamic = watch({}), other = watch(routed());
  double both = 0, either = 0, squares = 0;
  for (std::size_t c = 0; c < dynamic.hours.size(); ++c) {
    const double a = dynamic.hours[c], b = other.hours[c];
    both += a > 3 && b > 3;
    if (!(a > 3 || b > 3)) continue;
    either += 1;
    squares += (a - b) * (a - b);
  }
  REQUIRE(either > 30);
  CHECK(both / either >= 0.98);
  CHECK(std::sqrt(squares / either) < 0.25);
  figures::record("surface", "routed against dynamic, small yard",
                  "hours of standing water, root of mean square", std::sqrt(squares / either),
                  figures::at_most(0.25));
  double peak = 0, misfit = 0;
  for (std::size_t k = 0; k < dynamic.flow.size(); ++k) {
    peak = std::max(peak, dynamic.flow[k]);
    misfit += std::pow(dynamic.flow[k] - other.flow[k], 2);
  }
  CHECK(std::sqrt(misfit / static_cast<double>(dynamic.flow.size())) < 0.02 * peak);
  CHECK_THAT(other.out, WithinRel(dynamic.out, 0.02));
}
