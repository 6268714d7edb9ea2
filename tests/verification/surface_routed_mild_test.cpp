// The routed method in mild flow, where the depth is many times the fall from cell to cell: what is even
// stays even, from step to step and from cell to cell.

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "catch.hpp"
#include "surface/yards.hpp"

using namespace yards;
using lowspot::surface::Method;
using lowspot::surface::Options;

// Manning's law: h = (n q / S^(1/2))^(3/5) all along a strip that is fed at its head. In the fronts that fill
// it depths are far from even, so that whatever swings can start.
TEST_CASE("Routed: even flow in mild strips", "[verification][routed]") {
  struct Strip {
    double cell, slope, n, q;
  };
  double worst = 0;
  for (const Strip& strip : {Strip{0.5, 0.01, 0.1, 3e-4},  // depth over the fall: 2
                             Strip{0.25, 0.01, 0.1, 3e-3}, // 12
                             Strip{0.25, 0.003, 0.1, 1e-3}, Strip{0.25, 0.005, 0.15, 3e-3},
                             Strip{0.61, 0.004, 0.3, 1e-2}, Strip{0.1, 0.003, 0.3, 1e-3}}) { // 147
    for (const double step : {5.0, 20.0}) {
      const int length = 40;
      Terrain terrain =
          rectangle(length, 2, strip.cell, strip.n, [&](double x, double) { return 10 - strip.slope * x; });
      open_side(terrain, 1);
      Options options;
      options.method = Method::routed;
      options.routing_step = step;
      Run run(std::move(terrain), options);
      run.supply[0] = run.supply[length] = strip.q / strip.cell;
      const double even = std::pow(strip.n * strip.q / std::sqrt(strip.slope), 0.6);
      CAPTURE(strip.cell, strip.slope, strip.q, step, even);
      while (run.time < 3 * 3600) run.advance(60);
      for (int k = 0; k < 30; ++k) {
        const double flow = run.advance(20) / 20 / (2 * strip.cell * strip.q);
        CHECK_THAT(flow, WithinAbs(1, 0.01));
        for (int i = 0; i < length; ++i) worst = std::max(worst, std::abs(run.flow.depth()[i] / even - 1));
      }
    }
  }
  // The even depth solves the steps exactly: what is left is what single precision and the last of the
  // filling leave.
  CHECK(worst < 0.005);
}

namespace {

// A swale with sides of 5 %: Manning's law for each row of cells, whose levels are one.
struct Swale {
  double cell, slope, n, discharge;
  int rows() const { return 2 * static_cast<int>(std::lround(2 / cell)) + 1; }
  double depth(double deepest, int j) const {
    return std::max(deepest - side * cell * std::abs(j - rows() / 2), 0.0);
  }
  double part(double deepest, int j) const {
    return std::pow(depth(deepest, j), 5.0 / 3.0) * cell * std::sqrt(slope) / n;
  }
  // Where the water is deepest in even flow [m].
  double even() const {
    double low = 0, high = 1;
    for (int k = 0; k < 60; ++k) {
      const double deepest = (low + high) / 2;
      double sum = 0;
      for (int j = 0; j < rows(); ++j) sum += part(deepest, j);
      (sum < discharge ? low : high) = deepest;
    }
    return low;
  }
  static constexpr double side = 0.05;
};

} // namespace

TEST_CASE("Routed: even flow in a swale", "[verification][routed]") {
  for (const Swale& swale :
       {Swale{0.25, 0.005, 0.15, 0.002}, Swale{0.25, 0.005, 0.15, 0.02}, Swale{0.125, 0.005, 0.15, 0.02},
        Swale{0.125, 0.01, 0.03, 0.02}, Swale{0.5, 0.01, 0.15, 0.002}, Swale{0.5, 0.01, 0.15, 0.02},
        Swale{0.5, 0.005, 0.15, 0.002}, Swale{0.25, 0.02, 0.15, 0.02}, Swale{0.125, 0.02, 0.15, 0.002}})
    for (const bool in_one_place : {false, true}) {
      const int nx = static_cast<int>(std::lround(20 / swale.cell)), ny = swale.rows();
      Terrain terrain = rectangle(nx, ny, swale.cell, swale.n, [&](double x, double y) {
        return 10 - swale.slope * x + swale.side * std::abs(y - ny * swale.cell / 2);
      });
      open_side(terrain, 1);
      Options options;
      options.method = Method::routed;
      Run run(std::move(terrain), options);
      const auto& grid = run.flow.terrain().grid;
      const double even = swale.even(), area = swale.cell * swale.cell;
      CAPTURE(swale.cell, swale.slope, swale.n, swale.discharge, in_one_place, even);
      for (int j = 0; j < ny; ++j) run.supply[grid.index(0, j)] = swale.part(even, j) / area;
      // All of it into the lowest cell: it has to rise over the sides.
      if (in_one_place) {
        std::fill(run.supply.begin(), run.supply.end(), 0.0);
        run.supply[grid.index(0, ny / 2)] = swale.discharge / area;
      }
      while (run.time < 3600) run.advance(20);
      for (int k = 0; k < 60; ++k) {
        CHECK_THAT(run.advance(20) / 20, WithinRel(swale.discharge, 0.005));
        for (int j = 0; j < ny; ++j)
          CHECK_THAT(run.flow.depth()[grid.index(nx / 2, j)], WithinAbs(swale.depth(even, j), 0.05 * even));
      }
      CHECK(std::abs(run.misfit()) < 1e-9 * run.supplied);
    }
}

// A swale that its sides feed carries what it is given, whatever the cells, and as deep.
TEST_CASE("Routed: a swale fed by rain is steady", "[verification][routed]") {
  const double rain = 50 * mm_per_hour, slope = 0.003, side = 0.05;
  double deepest[3];
  int at = 0;
  for (const double cell : {0.5, 0.25, 0.125}) {
    const int nx = static_cast<int>(std::lround(24 / cell)),
              ny = 2 * static_cast<int>(std::lround(8 / cell)) + 1;
    Terrain terrain = rectangle(nx, ny, cell, 0.15, [&](double x, double y) {
      return 10 - slope * x + side * std::abs(y - ny * cell / 2);
    });
    open_side(terrain, 1);
    Options options;
    options.method = Method::routed;
    Run run(std::move(terrain), options);
    const auto& grid = run.flow.terrain().grid;
    run.rain(rain);
    CAPTURE(cell);
    while (run.time < 5400) run.advance(60);
    for (int k = 0; k < 30; ++k) {
      CHECK_THAT(run.advance(60) / 60,
                 WithinRel(rain * static_cast<double>(grid.cells()) * cell * cell, 0.01));
      deepest[at] = run.flow.depth()[grid.index(nx / 2, ny / 2)];
    }
    ++at;
  }
  for (const double one : deepest) CHECK_THAT(one, WithinRel(deepest[2], 0.03));
}

// Which way round a swale lies in the grid does not matter: seen in a mirror, or with its rows as columns, it
// stands as deep to round-off, while it fills, in steady flow and while it runs dry. (Not where it has pits
// in a row: there is a threshold to what they pass on within a step.)
namespace {

// The largest difference of depth to that seen in a mirror and with rows as columns, and the largest depth
// [m].
std::pair<double, double> seen_otherwise(double slope, double bends, double noise) {
  const int length = 60, width = 15;
  const double cell = 0.25;
  // Distinct heights, so that there is one way down.
  const auto bed = [&](int along, int across) {
    const double x = (along + 0.5) * cell, y = (across - (width - 1) / 2.0) * cell;
    const double bend = bends * std::sin(0.6 * x);
    return 10 - slope * x + 0.05 * std::abs(y - bend) + 4e-4 * std::sin(noise * along + 78.233 * across);
  };
  struct Way {
    bool mirrored, turned;
  };
  std::vector<Run> runs;
  const std::vector<Way> ways = {{false, false}, {true, false}, {false, true}, {true, true}};
  for (const Way& way : ways) {
    const auto at = [&](double x, double y) {
      const int i = static_cast<int>(x / cell), j = static_cast<int>(y / cell);
      const int along = way.turned ? j : i, across = way.turned ? i : j;
      return bed(along, way.mirrored ? width - 1 - across : across);
    };
    Terrain terrain = rectangle(way.turned ? width : length, way.turned ? length : width, cell, 0.1, at);
    open_side(terrain, way.turned ? 3 : 1);
    Options options;
    options.method = Method::routed;
    runs.emplace_back(std::move(terrain), options);
  }
  const auto index = [&](const Way& way, int along, int across) {
    const int there = way.mirrored ? width - 1 - across : across;
    const auto& grid = runs[&way - ways.data()].flow.terrain().grid;
    return way.turned ? grid.index(there, along) : grid.index(along, there);
  };
  double worst = 0, deepest = 0;
  for (int k = 0; k < 120; ++k) {
    for (std::size_t r = 0; r < runs.size(); ++r) {
      runs[r].rain(k < 20 ? 40 * mm_per_hour : 0.0);
      runs[r].supply[index(ways[r], 3, 5)] += k < 70 ? 0.01 / (cell * cell) : 0.0;
      runs[r].advance(60);
    }
    for (int along = 0; along < length; ++along)
      for (int across = 0; across < width; ++across) {
        const double depth = runs[0].flow.depth()[index(ways[0], along, across)];
        deepest = std::max(deepest, depth);
        for (std::size_t r = 1; r < runs.size(); ++r)
          worst = std::max(worst, std::abs(runs[r].flow.depth()[index(ways[r], along, across)] - depth));
      }
  }
  return {worst, deepest};
}

} // namespace

TEST_CASE("Routed: a swale in a mirror and turned", "[verification][routed]") {
  for (const double noise : {12.9898, 13.3598, 13.7298}) {
    const auto [worst, deepest] = seen_otherwise(0.01, 0, noise);
    CAPTURE(noise);
    CHECK(deepest > 0.04); // there were sections
    CHECK(worst < 1e-9);
    CHECK(seen_otherwise(0.02, 0.4, noise).first < 1e-9);
  }
}

// Sheet flow on a plane turned against the cells: both sides that water leaves by share it, and the shares do
// not swing.
TEST_CASE("Routed: sheet flow on a plane that lies at an angle to the cells", "[verification][routed]") {
  constexpr double cell = 0.25, slope = 0.005, pi = 3.14159265358979;
  for (const double degrees : {10.0, 15.0, 25.0}) {
    const double along = std::cos(degrees * pi / 180), across = std::sin(degrees * pi / 180);
    const Terrain terrain = [&] {
      Terrain plane = rectangle(48, 40, cell, 0.15,
                                [&](double x, double y) { return 10 - slope * (x * along + y * across); });
      open_side(plane, 1);
      open_side(plane, 3);
      return plane;
    }();
    Options options;
    options.method = Method::routed;
    Run run(terrain, options), dynamic(terrain, never_resting());
    const double rain = 50 * mm_per_hour, steady = rain * 12 * 10;
    CAPTURE(degrees);
    run.rain(rain);
    dynamic.rain(rain);
    while (run.time < 7200) run.advance(60);
    while (dynamic.time < 7200) dynamic.advance(60);
    CHECK_THAT(run.flow.volume(), WithinRel(dynamic.flow.volume(), 0.02));
    for (int k = 0; k < 60; ++k) {
      CHECK_THAT(run.advance(60) / 60, WithinRel(steady, 0.015));
      for (std::size_t c = 0; c < terrain.grid.cells(); ++c)
        if (dynamic.flow.depth()[c] > 1e-3)
          REQUIRE_THAT(run.flow.depth()[c], WithinRel(dynamic.flow.depth()[c], 0.35));
    }
  }
}
