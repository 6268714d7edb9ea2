#include "catch.hpp"

#include <array>
#include <random>
#include <thread>

#include <lowspot/base/error.hpp>

#include "yards.hpp"

using namespace lowspot;
using namespace lowspot::surface;
using namespace yards;

namespace {

Options routed() {
  Options options;
  options.method = Method::routed;
  return options;
}

// Rough ground with gaps, walls, depressions and open sides, by a seed.
Terrain random_yard(unsigned seed) {
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> unit(0, 1);
  const double bumps = seed % 3 == 0 ? 0.2 : 0.03, step = seed % 4 == 0 ? 0.01 : 1e-9;
  Terrain terrain = rectangle(23, 17, 0.5, 0.05, [&](double x, double y) {
    return step * std::floor((0.02 * x + 0.01 * y + bumps * unit(random)) / step);
  });
  for (std::size_t c = 0; c < terrain.active.size(); ++c) {
    terrain.active[c] = unit(random) > 0.04;
    terrain.depression_storage[c] = unit(random) < 0.5 ? 0.004 * unit(random) : 0.0;
    terrain.vegetation_height[c] = unit(random) < 0.5 ? 0.03 : 0.0;
  }
  for (double& crest : terrain.crest_x)
    if (unit(random) < 0.1) crest = 0.3 * unit(random);
  if (seed % 2) open_side(terrain, 0);
  open_side(terrain, 2);
  std::erase_if(terrain.open_faces, [&](const OpenFace& open) { return !terrain.active[open.cell]; });
  return terrain;
}

} // namespace

TEST_CASE("no water is lost or made in any yard and any weather", "[routed]") {
  for (unsigned seed = 1; seed <= 24; ++seed) {
    CAPTURE(seed);
    Run run(random_yard(seed), routed());
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> unit(0, 1);
    for (int spell = 0; spell < 12; ++spell) {
      for (std::size_t c = 0; c < run.supply.size(); ++c) {
        run.supply[c] = !run.flow.terrain().active[c] || unit(random) < 0.3
                            ? 0.0
                            : (spell % 3 == 2 ? 0 : 1) * unit(random) * 80 * mm_per_hour;
        run.sink[c] = unit(random) < 0.5 ? 0.0 : unit(random) * 30 * mm_per_hour;
      }
      for (int k = 0; k < 8; ++k) {
        run.advance(spell % 3 == 2 ? 900 : 45);
        for (std::size_t c = 0; c < run.supply.size(); ++c) {
          CHECK(run.flow.depth()[c] >= 0);
          CHECK(run.flow.depth()[c] < 2);
          CHECK(run.taken[c] >= 0);
        }
        CHECK(std::abs(run.misfit()) < 1e-11 * run.supplied);
      }
    }
  }
}

TEST_CASE("sinks take no more than they can and no more than there is", "[routed]") {
  Run run(random_yard(5), routed());
  run.rain(40 * mm_per_hour);
  std::fill(run.sink.begin(), run.sink.end(), 15 * mm_per_hour);
  for (int k = 0; k < 40; ++k) {
    run.advance(60);
    for (double taken : run.taken) CHECK(taken <= 15 * mm_per_hour * 60 * (1 + 1e-12));
  }
}

TEST_CASE("a pool at rest stays as it is", "[routed]") {
  Terrain terrain = rectangle(
      20, 16, 0.5, 0.05, [](double x, double y) { return 0.01 * ((x - 5) * (x - 5) + (y - 4) * (y - 4)); });
  Run run(terrain, routed());
  double given = 0;
  for (int k = 0; k < 30; ++k) given += run.flow.give(static_cast<int>(terrain.grid.index(10, 8)), 0.3);
  CHECK_THAT(run.flow.volume(), WithinAbs(given * 0.25, 1e-12));
  run.advance(600);
  const Field before(run.flow.depth().begin(), run.flow.depth().end());
  run.advance(86400);
  CHECK(run.flow.at_rest());
  for (std::size_t c = 0; c < before.size(); ++c)
    CHECK_THAT(run.flow.depth()[c], WithinAbs(before[c], 1e-12));
  double lowest = 1e9, highest = -1e9;
  for (std::size_t c = 0; c < before.size(); ++c)
    if (before[c] > 1e-6) {
      lowest = std::min(lowest, terrain.elevation[c] + before[c]);
      highest = std::max(highest, terrain.elevation[c] + before[c]);
    }
  CHECK(highest - lowest < 1e-12);
  // What is taken away comes off the pool, no more than there is.
  const int middle = static_cast<int>(terrain.grid.index(10, 8));
  const double taken = run.flow.give(middle, -100);
  CHECK(taken < 0);
  CHECK_THAT(run.flow.volume(), WithinAbs((given + taken) * 0.25, 1e-12));
}

TEST_CASE("a yard seen in a mirror or turned round gives the same answer", "[routed]") {
  // Distinct heights, so that there is one way down.
  Terrain terrain = random_yard(7);
  const Grid& grid = terrain.grid;
  Terrain mirror = terrain;
  for (int j = 0; j < grid.ny; ++j)
    for (int i = 0; i < grid.nx; ++i) {
      const std::size_t a = grid.index(i, j), b = grid.index(grid.nx - 1 - i, j);
      mirror.active[a] = terrain.active[b];
      for (auto field : {&Terrain::elevation, &Terrain::depression_storage, &Terrain::vegetation_height})
        (mirror.*field)[a] = (terrain.*field)[b];
      mirror.crest_x[grid.x_face(i, j)] = terrain.crest_x[grid.x_face(grid.nx - i, j)];
      mirror.crest_x[grid.x_face(i + 1, j)] = terrain.crest_x[grid.x_face(grid.nx - 1 - i, j)];
    }
  for (OpenFace& open : mirror.open_faces) {
    const int i = grid.column(open.cell), j = grid.row(open.cell);
    open.cell = static_cast<int>(grid.index(grid.nx - 1 - i, j));
    if (open.side < 2) open.side = 1 - open.side;
  }
  Run one(terrain, routed()), two(mirror, routed());
  for (int k = 0; k < 60; ++k) {
    one.rain(k < 40 ? 60 * mm_per_hour : 0.0);
    two.rain(k < 40 ? 60 * mm_per_hour : 0.0);
    one.advance(60);
    two.advance(60);
    for (int j = 0; j < grid.ny; ++j)
      for (int i = 0; i < grid.nx; ++i)
        CHECK_THAT(two.flow.depth()[grid.index(grid.nx - 1 - i, j)],
                   WithinAbs(one.flow.depth()[grid.index(i, j)], 1e-9));
    CHECK_THAT(two.out, WithinAbs(one.out, 1e-9));
  }
}

TEST_CASE("in a steady storm nothing heaps up from step to step", "[routed]") {
  Terrain terrain = rectangle(40, 36, 0.25, 0.1, [](double x, double y) {
    const double away = std::hypot(x - 6, y - 4);
    return 0.015 * x + 0.01 * y + 0.01 * std::sin(2.3 * x) * std::cos(1.9 * y) -
           0.1 * std::exp(-away * away / 3);
  });
  open_side(terrain, 0);
  Run run(std::move(terrain), routed());
  const double rain = 40 * mm_per_hour, steady = rain * 10 * 9; // m3/s over the edge
  run.rain(rain);
  while (run.time < 2 * 3600) run.advance(30);
  Field lowest(run.flow.depth().begin(), run.flow.depth().end()), highest = lowest;
  for (int k = 0; k < 60; ++k) {
    CHECK_THAT(run.advance(30) / 30, WithinRel(steady, 1e-3));
    for (std::size_t c = 0; c < lowest.size(); ++c) {
      lowest[c] = std::min(lowest[c], run.flow.depth()[c]);
      highest[c] = std::max(highest[c], run.flow.depth()[c]);
    }
  }
  for (std::size_t c = 0; c < lowest.size(); ++c) {
    CAPTURE(c, lowest[c]);
    CHECK(highest[c] - lowest[c] < 1e-4);
  }
}

TEST_CASE("steps grow while flow hardly changes", "[routed]") {
  Terrain terrain = rectangle(20, 4, 0.5, 0.05, [](double x, double) { return 1 - 0.02 * x; });
  open_side(terrain, 1);
  Options options = routed();
  options.routing_step = 20;
  Run run(std::move(terrain), options);
  const auto steps_in = [&](double dt) {
    const long before = run.flow.counters().steps;
    run.advance(dt);
    return run.flow.counters().steps - before;
  };
  run.rain(50 * mm_per_hour);
  CHECK(steps_in(40) == 2); // a wetting plane
  for (int k = 0; k < 12; ++k) run.advance(300);
  CHECK(steps_in(300) == 3); // steady: five times as long
  CHECK_THAT(run.advance(300) / 300, WithinRel(50 * mm_per_hour * 10 * 2, 1e-6));
  run.rain(20 * mm_per_hour);
  CHECK(steps_in(300) > 3);
}

TEST_CASE("a copy goes on like the original, and lines count what crosses them", "[routed]") {
  Terrain terrain = rectangle(20, 4, 0.5, 0.05, [](double x, double) { return 1 - 0.02 * x; });
  open_side(terrain, 1);
  FaceSet line;
  for (int j = 0; j < 4; ++j) {
    line.x_faces.push_back(static_cast<int>(terrain.grid.x_face(10, j)));
    line.x_weights.push_back(1);
  }
  terrain.lines = {line};
  Run run(terrain, routed());
  run.rain(50 * mm_per_hour);
  for (int k = 0; k < 60; ++k) run.advance(30);
  // Steady: all the rain on the upper half crosses the line.
  CHECK_THAT(run.flow.crossed()[0], WithinRel(50 * mm_per_hour * 5 * 2 * 30, 1e-6));
  CHECK_THAT(run.flow.discharge_x()[terrain.grid.x_face(10, 1)], WithinRel(50 * mm_per_hour * 5, 1e-6));
  Run copy = run;
  copy.advance(30);
  run.advance(30);
  CHECK(copy.flow.volume() == run.flow.volume());
}

TEST_CASE("sources are not followed by the routed method", "[routed]") {
  Run run(random_yard(3), routed());
  CHECK_THROWS_AS(run.flow.follow_sources(2), NumericsError);
}

TEST_CASE("discharges may be read by several threads at once", "[routed]") {
  Terrain terrain = random_yard(7);
  Run run(terrain, routed());
  run.rain(50 * mm_per_hour);
  for (int k = 0; k < 20; ++k) {
    run.advance(60);
    const Run copy = run; // works them out for itself
    const Flow& flow = run.flow;
    constexpr int readers = 4;
    std::array<std::pair<double, double>, readers> sums = {};
    const auto sum_of = [](const Flow& of) {
      double x = 0, y = 0;
      for (const double q : of.discharge_x()) x += q;
      for (const double q : of.discharge_y()) y += q;
      return std::pair(x, y);
    };
    std::vector<std::thread> threads;
    threads.emplace_back([&] { sums[0] = sum_of(Flow(flow)); });
    for (int r = 1; r < readers; ++r) threads.emplace_back([&, r] { sums[r] = sum_of(flow); });
    for (std::thread& thread : threads) thread.join();
    const std::pair<double, double> alone = sum_of(copy.flow);
    for (const auto& sum : sums) CHECK(sum == alone);
    if (k > 5) CHECK(std::abs(alone.first) + std::abs(alone.second) > 0);
  }
}

TEST_CASE("a hollow does not follow its thirsty neighbour through shallow water", "[routed]") {
  // Two hollows parted at 20 mm by a flat of 1 m; the soil of one takes 20 mm/h, that of the other nothing.
  const auto levels = [](const Options& options) {
    Run run(rectangle(24, 2, 0.25, 0.2,
                      [](double x, double) { return x < 2.5 || x > 3.5 ? 0.0 : 0.02 + 1e-4 * x; }),
            options);
    const Grid& grid = run.flow.terrain().grid;
    for (std::size_t c = 0; c < grid.cells(); ++c) {
      run.flow.give(static_cast<int>(c), std::max(0.028 - run.flow.terrain().elevation[c], 0.0));
      if (grid.x(grid.column(static_cast<int>(c))) > 3.5) run.sink[c] = 20 * mm_per_hour;
    }
    std::vector<double> west;
    for (int k = 0; k < 180; ++k) {
      run.advance(60);
      if (k % 10 == 9) west.push_back(run.flow.depth()[0]);
    }
    return west;
  };
  Options steps = routed();
  steps.routing_step = 60;
  const std::vector<double> exact = levels(never_resting()), answer = levels(steps);
  for (std::size_t k = 0; k < exact.size(); ++k) CHECK_THAT(answer[k], WithinAbs(exact[k], 1e-4));
}

TEST_CASE("the front of a stream runs through a row of pits within a step", "[routed]") {
  // A gully with a pit every few cells, the stream let in at once. A pit that kept what comes in a step would
  // stand q dt / dx = 0.96 m high; the dynamic method has 0.03 to 0.06 m.
  constexpr double dx = 0.25, q = 0.004;
  for (const double bumps : {0.03, 0.06})
    for (unsigned seed = 1; seed <= 6; ++seed) {
      const auto gully = [&] {
        std::mt19937 random(seed);
        std::uniform_real_distribution<double> unit(0, 1);
        Terrain terrain = rectangle(60, 3, dx, 0.03, [&](double x, double y) {
          return 1 - bumps * (x - 0.5 * dx) + (y > dx && y < 2 * dx ? 0.0 : 0.2) + bumps * unit(random);
        });
        open_side(terrain, 1);
        return terrain;
      };
      const auto greatest = [&](const Options& options) {
        Run run(gully(), options);
        run.supply[run.flow.terrain().grid.index(0, 1)] = q / dx;
        Field most(run.flow.depth().begin(), run.flow.depth().end());
        for (int k = 0; k < 30; ++k) {
          run.advance(60);
          for (std::size_t c = 0; c < most.size(); ++c) most[c] = std::max(most[c], run.flow.depth()[c]);
        }
        CHECK_THAT(run.misfit(), WithinAbs(0, 1e-12 * run.supplied));
        return most;
      };
      Options options = routed();
      options.routing_step = 60;
      const Field expected = greatest({}), found = greatest(options);
      CAPTURE(bumps, seed);
      double over = 0;
      for (std::size_t c = 0; c < found.size(); ++c) over = std::max(over, found[c] - expected[c]);
      CHECK(over < 0.12); // an eighth of what a step brings
    }
}

TEST_CASE("a pool overtops a wall that stands far above its lowest way out", "[routed]") {
  // A pit behind a wall 0.5 m high, with one gap of 50 mm in the other walls round it, and dry ground beyond.
  const auto beyond = [](Method method) {
    Terrain terrain = rectangle(10, 4, 0.25, 0.03, [](double, double) { return 1.0; });
    for (int j = 0; j < 4; ++j) terrain.crest_x[terrain.grid.x_face(5, j)] = 1.5;
    terrain.open_faces = {{0, 0}};
    terrain.crest_x[0] = 1.05;
    open_side(terrain, 1);
    lowspot::surface::Options options;
    options.method = method;
    Run run(std::move(terrain), options);
    run.supply[2] = 1.2 / 0.0625; // 1.2 m3/s, more than the gap takes at the height of the wall
    run.advance(120);
    return run.flow.depth()[22];
  };
  const double deep = beyond(Method::routed), expected = beyond(Method::dynamic);
  CHECK(expected > 0.5);
  CHECK_THAT(deep, WithinAbs(expected, 0.005));
}
