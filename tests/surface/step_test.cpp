#include <lowspot/surface/step.hpp>

#include <algorithm>
#include <cmath>
#include <tuple>

#include <lowspot/base/error.hpp>

#include "catch.hpp"
#include "yards.hpp"

using namespace lowspot::surface;

TEST_CASE("Length of the step", "[surface]") {
  const Terrain terrain = yards::rectangle(10, 10, 0.5, 0.03, [](double, double) { return 0.0; });
  Options options;
  options.celerity_cap = 0.5;
  Workspace work(terrain, options);
  const double courant = 0.98 / std::sqrt(2.4); // below the 0.7 asked for: two dimensions, foresight 0.1
  CHECK_THAT(stable_step(terrain, options, work), WithinRel(courant * 0.5 / 0.1, 1e-9)); // dry
  work.deepest = 0.01;
  CHECK_THAT(stable_step(terrain, options, work), WithinRel(courant * 0.5 / std::sqrt(9.81 * 0.01), 1e-9));
  work.deepest = 0.4;
  CHECK_THAT(stable_step(terrain, options, work), WithinRel(courant * 0.5 / 0.5, 1e-9)); // the cap
  work.celerities = {3.0, 3.0}; // more than the cap: some faces flow fast
  CHECK_THAT(stable_step(terrain, options, work), WithinRel(courant * 0.5 / std::sqrt(3.0), 1e-9));
  // Where only one direction is fast, the waves of both have the more room, up to the courant number.
  for (const Celerities& fast : {Celerities{0.3, 0.1}, Celerities{0.1, 0.3}}) {
    work.celerities = fast; // the other direction is at the cap
    CHECK_THAT(stable_step(terrain, options, work), WithinRel(0.98 * 0.5 / std::sqrt(1.2 * 0.55), 1e-9));
  }
  work.celerities = {3.0, 0.0};
  CHECK_THAT(stable_step(terrain, options, work), WithinRel(0.7 * 0.5 / std::sqrt(3.0), 1e-9));
  options.courant = 0.3;
  CHECK_THAT(stable_step(terrain, options, work), WithinRel(0.3 * 0.5 / std::sqrt(3.0), 1e-9));
}

// Water that bears on vegetation goes faster once it is deep.
TEST_CASE("Grass lies down under deep flow", "[surface]") {
  const auto steady_depth = [](double height) {
    Terrain terrain = yards::rectangle(40, 3, 0.5, 0.2, [](double x, double) { return -0.02 * x; });
    terrain.manning_n_deep.assign(terrain.manning_n.size(), 0.05);
    terrain.vegetation_height.assign(terrain.manning_n.size(), height);
    yards::open_side(terrain, 1);
    yards::Run run(std::move(terrain));
    for (int j = 0; j < 3; ++j) run.supply[j * 40] = 0.02 / 0.5; // 0.02 m2/s
    run.advance(1200);
    return run.flow.depth()[40 + 30];
  };
  const double stiff = std::pow(0.02 * 0.2 / std::sqrt(0.02), 0.6),
               bent = std::pow(0.02 * 0.05 / std::sqrt(0.02), 0.6);
  CHECK_THAT(steady_depth(0), WithinRel(stiff, 1e-3)); // 119 mm
  CHECK_THAT(steady_depth(0.5), WithinRel(stiff, 1e-3));
  CHECK_THAT(steady_depth(0.02), WithinRel(bent, 1e-3)); // 52 mm, over twice the height
  const double between = steady_depth(0.05);
  CHECK(between < stiff);
  CHECK(between > bent);
  // Its own depth gives its own roughness: n = 0.2 (0.05 / 0.2)^((h - h_v / 2) / (1.5 h_v)).
  const double n = 0.2 * std::pow(0.25, (between - 0.025) / 0.075);
  CHECK_THAT(between, WithinRel(std::pow(0.02 * n / std::sqrt(0.02), 0.6), 1e-3));
}

TEST_CASE("Lines count what crosses them", "[surface]") {
  Terrain terrain = yards::rectangle(20, 4, 0.5, 0.03, [](double x, double) { return -0.01 * x; });
  FaceSet line;
  for (int j = 0; j < 4; ++j) {
    line.x_faces.push_back(static_cast<int>(terrain.grid.x_face(10, j)));
    line.x_weights.push_back(1);
  }
  terrain.lines.push_back(line);
  for (double& weight : line.x_weights) weight = -1;
  terrain.lines.push_back(line);
  yards::open_side(terrain, 1);
  yards::Run run(std::move(terrain));
  run.rain(50 * yards::mm_per_hour);
  run.advance(600);
  const double crossed = run.flow.crossed()[0];
  double west = 0; // what fell west of the line and is not there any more
  for (int j = 0; j < 4; ++j)
    for (int i = 0; i < 10; ++i)
      west += (50 * yards::mm_per_hour * 600 - run.flow.depth()[j * 20 + i]) * 0.25;
  CHECK_THAT(crossed, WithinRel(west, 1e-12));
  CHECK(run.flow.crossed()[1] == -crossed);
  double left = 0;
  for (const double volume : run.flow.left_through()) left += volume;
  CHECK_THAT(left, WithinRel(run.supplied - run.flow.volume(), 1e-12));
}

// The next step may follow three rows behind: rain, a line, an outline with an open edge inside the grid,
// cells that cannot feed their outflow.
TEST_CASE("Several steps in one sweep are several steps", "[surface]") {
  Terrain terrain = yards::rectangle(70, 37, 0.25, 0.02, [](double x, double y) {
    return 0.03 * x + 0.02 * y + 0.03 * std::sin(2 * x) * std::sin(3 * y);
  });
  const auto& grid = terrain.grid;
  for (int i = 0; i < 70; ++i) { // south of row 5 nothing belongs to the yard
    for (int j = 0; j < 5; ++j) terrain.active[grid.index(i, j)] = 0;
    terrain.open_faces.push_back({static_cast<int>(grid.index(i, 5)), 2});
  }
  yards::open_side(terrain, 3);
  FaceSet line;
  for (int i = 0; i < 70; ++i) {
    line.y_faces.push_back(static_cast<int>(grid.y_face(i, 20)));
    line.y_weights.push_back(-1);
  }
  terrain.lines.push_back(line);
  Options options;
  options.celerity_cap = 10; // above all that occurs, and so the same in every step
  options.full_every = 1;
  const auto run = [&](int together) {
    Workspace work(terrain, options);
    Tiles tiles(grid);
    lowspot::Field depth(grid.cells(), 0.0), taken(depth), left(terrain.open_faces.size(), 0.0),
        crossed(work.crossings.size(), 0.0);
    for (std::size_t c = 0; c < grid.cells(); ++c) {
      work.supply[c] = terrain.active[c] ? (c % 11 == 0 ? 2e-4 : 2e-5) : 0;
      work.sink[c] = c % 7 == 0 ? 1e-4 : 0;
    }
    for (int window = 0; window < 60; ++window) {
      mark_tiles(grid, 1.0, Skip::dry, depth, work, tiles);
      const StepNumbers numbers = begin_steps(terrain, options, 0.03, work);
      for (int k = 0; k < Tiles::steps_valid; k += together)
        hydraulic_steps(grid, numbers, together, tiles, work, {depth, taken, left, crossed});
    }
    return std::tuple(depth, taken, left, crossed, work.q_x, work.q_y);
  };
  const auto single = run(1);
  CHECK(*std::max_element(std::get<3>(single).begin(), std::get<3>(single).end()) > 0);
  for (const int together : {2, 4, 8}) CHECK(run(together) == single);
}

// Rain on a bumpy lawn that drains over one side, until it is steady and after: water seldom changes much
// within eight steps.
TEST_CASE("Quick steps between full ones lead to the same water", "[surface]") {
  const auto rained = [](int full_every) {
    Options options;
    options.full_every = full_every;
    Terrain terrain = yards::rectangle(60, 40, 0.25, 0.15, [](double x, double y) {
      return 0.015 * x + 0.012 * std::sin(2.1 * x) * std::sin(1.7 * y);
    });
    yards::open_side(terrain, 0);
    yards::Run run(std::move(terrain), options);
    std::vector<std::vector<double>> depths;
    for (const double rain : {40.0, 40.0, 40.0, 0.0, 0.0}) {
      run.rain(rain * yards::mm_per_hour);
      run.advance(300);
      depths.emplace_back(run.flow.depth().begin(), run.flow.depth().end());
    }
    CHECK(std::abs(run.misfit()) < 1e-12 * run.supplied);
    return depths;
  };
  const auto full = rained(1), quick = rained(Options{}.full_every);
  double apart = 0, deepest = 0;
  for (std::size_t k = 0; k < full.size(); ++k)
    for (std::size_t c = 0; c < full[k].size(); ++c) {
      apart = std::max(apart, std::abs(full[k][c] - quick[k][c]));
      deepest = std::max(deepest, full[k][c]);
    }
  CAPTURE(apart, deepest);
  CHECK(apart > 0);    // they are made
  CHECK(apart < 2e-5); // m: a tenth of what depths on maps have to agree within
}

// Grass that bends, in flow so fast that friction from a full step some steps ago is nearly out of date: one
// that follows the change of a single step for all of these would have ripples grow to three in a thousand.
TEST_CASE("Steady flow through bending grass stays steady in quick steps", "[surface]") {
  struct Slope {
    double rise, manning_n, rain;
  };
  for (const Slope& slope : {Slope{0.02, 0.3, 60}, Slope{0.02, 0.3, 150}, Slope{0.04, 0.3, 60}}) {
    Terrain terrain = yards::rectangle(40, 6, 0.5, slope.manning_n, [&](double x, double y) {
      return slope.rise * (20 - x + std::abs(y - 1.5));
    });
    terrain.manning_n_deep.assign(terrain.manning_n.size(), slope.manning_n / 3);
    terrain.vegetation_height.assign(terrain.manning_n.size(), 0.01);
    yards::open_side(terrain, 1);
    yards::Run run(std::move(terrain));
    run.rain(slope.rain * yards::mm_per_hour);
    for (int k = 0; k < 60; ++k) run.advance(30);
    const std::vector<double> before(run.flow.depth().begin(), run.flow.depth().end());
    double apart = 0;
    for (int k = 0; k < 20; ++k) {
      run.advance(k % 3 ? 7.3 : 1.1); // readings between full steps, too
      for (std::size_t c = 0; c < before.size(); ++c)
        apart = std::max(apart, std::abs(run.flow.depth()[c] - before[c]) / before[c]);
    }
    CAPTURE(slope.rise, slope.rain);
    CHECK(apart < 2e-5);
  }
}

TEST_CASE("Every so many steps are full ones: at least every one", "[surface]") {
  Options options;
  options.full_every = 0;
  CHECK_THROWS_AS(Flow(yards::rectangle(4, 4, 0.5, 0.05, [](double, double) { return 0.0; }), options),
                  lowspot::NumericsError);
}
