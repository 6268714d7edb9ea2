#include <lowspot/surface/undo.hpp>

#include <algorithm>
#include <cmath>
#include <tuple>
#include <vector>

#include "catch.hpp"
#include "yards.hpp"

#include <lowspot/surface/tags.hpp>

using namespace lowspot::surface;
using lowspot::Field;
using yards::Run;

namespace {

// Mean over the wet cells of either, since a front may stand in one cell or the next [m].
double mean_difference(const Run& a, const Run& b) {
  double sum = 0;
  int wet = 0;
  for (std::size_t c = 0; c < a.supply.size(); ++c) {
    sum += std::abs(a.flow.depth()[c] - b.flow.depth()[c]);
    wet += std::max(a.flow.depth()[c], b.flow.depth()[c]) > 1e-4 ? 1 : 0;
  }
  return sum / std::max(wet, 1);
}

double deepest(const Run& run) {
  return *std::max_element(run.flow.depth().begin(), run.flow.depth().end());
}

double shallowest(const Run& run) {
  return *std::min_element(run.flow.depth().begin(), run.flow.depth().end());
}

} // namespace

TEST_CASE("Steps taken back and made again are the same steps", "[surface]") {
  Terrain terrain = yards::rectangle(100, 41, 0.25, 0.02, [](double x, double y) {
    return 0.03 * x + 0.02 * y + 0.03 * std::sin(2 * x) * std::sin(3 * y);
  });
  terrain.depression_storage.assign(terrain.grid.cells(), 0.0002);
  terrain.active[20 * 100 + 30] = 0;
  terrain.open_faces.push_back({20 * 100 + 29, 1});
  yards::open_side(terrain, 0);
  yards::open_side(terrain, 3);
  terrain.lines.resize(1);
  for (int j = 0; j < 41; ++j) {
    terrain.lines[0].x_faces.push_back(static_cast<int>(terrain.grid.x_face(8, j)));
    terrain.lines[0].x_weights.push_back(1);
  }
  Workspace work(terrain, {});
  Tiles tiles(terrain.grid);
  Field depth(terrain.grid.cells(), 0.0), taken(depth), left(terrain.open_faces.size(), 0.0),
      crossed(work.crossings.size(), 0.0);
  Undo undo;
  Water water{depth, taken, left, crossed};
  for (std::size_t c = 0; c < depth.size(); ++c) { // one corner stays dry
    work.supply[c] = terrain.active[c] && terrain.grid.column(static_cast<int>(c)) < 50 ? 5e-5 : 0;
    work.sink[c] = c % 7 == 0 && terrain.active[c] ? 1e-5 : 0;
  }
  const auto run = [&](int count) {
    hydraulic_steps(terrain.grid, begin_steps(terrain, {}, 0.03, work), count, tiles, work, water);
  };
  const auto state = [&] {
    return std::tuple(depth, taken, left, crossed, work.q_x, work.q_y, work.mobile, work.change,
                      work.level.values, work.deepest, work.step, work.rushing, work.celerities.x,
                      work.celerities.y);
  };
  const auto mark = [&] { mark_tiles(terrain.grid, 1.0, Skip::dry, depth, work, tiles); };
  for (int k = 0; k < 60; ++k) {
    mark();
    run(8);
  }
  for (const int count : {8, 3}) {
    mark();
    const auto before = state();
    water.undo = &undo;
    undo.begin(terrain.grid, work, water);
    run(count);
    const auto after = state();
    CHECK(after != before);
    undo.restore(terrain.grid, tiles, work, water);
    CHECK(state() == before);
    run(count);
    CHECK(state() == after);
  }
  CHECK(crossed[0] != 0);
  CHECK(tiles.moving_cells < static_cast<double>(depth.size()));
}

TEST_CASE("A step of 0.3 m of water breaks without harm", "[surface]") {
  const auto start = [](int together, double courant) {
    Options options;
    options.most_together = together;
    options.courant = courant;
    Run run(yards::rectangle(60, 12, 0.5, 0.03, [](double, double) { return 0.0; }), options);
    for (int j = 0; j < 12; ++j)
      for (int i = 0; i < 20; ++i) run.flow.give(j * 60 + i, 0.3);
    return run;
  };
  Run grouped = start(8, 0.7), single = start(1, 0.7), finer = start(1, 0.35);
  const double volume = grouped.flow.volume();
  double apart = 0, by_step = 0, high = 0, low = 1;
  for (int k = 0; k < 30; ++k) {
    grouped.advance(3);
    single.advance(3);
    finer.advance(3);
    apart = std::max(apart, mean_difference(grouped, single));
    by_step = std::max(by_step, mean_difference(single, finer));
    high = std::max(high, deepest(grouped));
    low = std::min(low, shallowest(grouped));
  }
  CHECK(low >= 0);
  CHECK(high < 0.3 * (1 + 1e-9));
  // What groups of steps change is less than what the length of steps changes.
  CHECK(apart < 0.04 * 0.3);
  CHECK(apart < by_step);
  CHECK(grouped.flow.counters().groups_again > 0);
  CHECK_THAT(grouped.flow.volume(), WithinRel(volume, 1e-12));
}

// A spout fills a hollow, slowly and in large steps; then it pours onto a steep slab instead, where water
// comes to three times the speed that the steps were made for within two of them.
TEST_CASE("Water that starts to rush within a group of steps", "[surface]") {
  const auto start = [](int together) {
    Options options;
    options.most_together = together;
    Run run(yards::rectangle(
                120, 12, 0.25, 0.013,
                [](double x, double) { return x < 15 ? 0.1 * std::abs(x - 7.5) : 0.1 * (22.5 - x); }),
            options);
    for (int j = 4; j < 8; ++j) run.supply[j * 120 + 30] = 0.01;
    run.advance(100);
    std::fill(run.supply.begin(), run.supply.end(), 0.0);
    for (int j = 4; j < 8; ++j) run.supply[j * 120 + 64] = 0.01;
    return run;
  };
  Run grouped = start(8), single = start(1);
  const double hollow = deepest(grouped);
  const long before = grouped.flow.counters().groups_again;
  double apart = 0;
  for (int k = 0; k < 20; ++k) {
    grouped.advance(2);
    single.advance(2);
    apart = std::max(apart, mean_difference(grouped, single));
    CHECK(shallowest(grouped) >= 0);
    CHECK(deepest(grouped) < 1.05 * hollow); // the hollow rocks a little
  }
  CHECK(grouped.flow.counters().groups_again > before);
  CHECK(apart < 1e-4);
  CHECK(std::abs(grouped.misfit()) < 1e-12 * grouped.supplied);

  // Shares of sources are taken back with it: all is of the hollow but what the second spout gave.
  Run followed = start(8), plain = start(8);
  followed.flow.follow_sources(2, 0);
  std::vector<TagSupply> arriving;
  for (int j = 4; j < 8; ++j) arriving.push_back({j * 120 + 64, 1, 0.01});
  followed.flow.tags()->set_supply(arriving);
  const long again = plain.flow.counters().groups_again;
  followed.advance(2);
  plain.advance(2);
  CHECK(plain.flow.counters().groups_again > again);
  CHECK(mean_difference(followed, plain) == 0);
  double second = 0;
  for (std::size_t c = 0; c < plain.supply.size(); ++c)
    second += followed.flow.tags()->share(1)[c] * followed.flow.depth()[c];
  CHECK_THAT(second, WithinRel(4 * 0.01 * 2, 1e-12));
}
