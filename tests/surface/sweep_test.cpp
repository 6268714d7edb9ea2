#include <lowspot/surface/sweep.hpp>

#include <cmath>
#include <tuple>
#include <vector>

#include "catch.hpp"
#include "yards.hpp"

#include <lowspot/surface/crew.hpp>
#include <lowspot/surface/tags.hpp>
#include <lowspot/surface/undo.hpp>

using namespace lowspot::surface;
using lowspot::Field;

namespace {

// Hollows, a wall, a house, a hole in the outline with an open edge into it, grass, depression storage.
Terrain crooked_yard(int nx, int ny) {
  Terrain terrain = yards::rectangle(nx, ny, 0.25, 0.05, [](double x, double y) {
    return 0.03 * x + 0.02 * y + 0.05 * std::sin(1.3 * x) * std::sin(1.7 * y);
  });
  const auto& grid = terrain.grid;
  terrain.depression_storage.assign(grid.cells(), 0.0003);
  for (std::size_t c = 0; c < grid.cells(); ++c)
    if (grid.column(static_cast<int>(c)) > nx / 2) {
      terrain.vegetation_height[c] = 0.01;
      terrain.manning_n_deep[c] = 0.02;
    }
  for (int j = ny / 3; j < ny / 2; ++j)
    for (int i = nx / 4; i < nx / 3; ++i) terrain.active[grid.index(i, j)] = 0;
  for (int i = nx / 4; i < nx / 3; ++i) {
    terrain.open_faces.push_back({static_cast<int>(grid.index(i, ny / 3 - 1)), 3});
    terrain.open_faces.push_back({static_cast<int>(grid.index(i, ny / 2)), 2});
  }
  for (int j = ny / 4; j < ny; ++j) terrain.crest_x[grid.x_face(nx / 2, j)] = 2.0;
  yards::open_side(terrain, 0);
  yards::open_side(terrain, 2);
  yards::open_side(terrain, 3);
  for (const int row : {ny / 5, ny / 2}) {
    FaceSet line;
    for (int i = 0; i < nx; ++i) {
      line.y_faces.push_back(static_cast<int>(grid.y_face(i, row)));
      line.y_weights.push_back(-1);
      line.x_faces.push_back(static_cast<int>(grid.x_face(nx / 2, std::min(i, ny - 1))));
      line.x_weights.push_back(1);
    }
    terrain.lines.push_back(line);
  }
  return terrain;
}

auto answer(const Flow& flow, const Field& taken) {
  const auto copy = [](std::span<const double> values) {
    return std::vector<double>(values.begin(), values.end());
  };
  return std::tuple(copy(flow.depth()), copy(flow.discharge_x()), copy(flow.discharge_y()),
                    copy(flow.left_through()), copy(flow.crossed()), taken, flow.counters().steps);
}

} // namespace

TEST_CASE("Any number of threads gives the same water to the last bit", "[surface]") {
  const Terrain terrain = crooked_yard(150, 230);
  for (const int together : {1, 8}) {
    const auto run = [&](int threads) {
      Options options;
      options.threads = threads;
      options.most_together = together;
      options.updates_a_thread = 500;
      yards::Run yard(terrain, options);
      yard.rain(150 * yards::mm_per_hour);
      for (std::size_t c = 0; c < yard.supply.size(); ++c) { // one side stays dry, spouts pour onto the other
        if (c % 150 > 90) yard.supply[c] = 0;
        if (c % 971 == 0 && terrain.active[c]) yard.supply[c] += 2e-3;
        yard.sink[c] = c % 7 == 0 ? 1e-5 : 0;
      }
      yard.advance(40);
      yard.flow.give(160 * 150 + 100, 0.2); // a rush that takes groups of steps back
      yard.advance(20);
      yard.rain(0);
      yard.advance(60);
      CHECK(yard.flow.crossed()[0] != 0);
      CHECK(std::abs(yard.misfit(0.2 * 0.0625)) < 1e-12 * yard.supplied);
      return answer(yard.flow, yard.taken);
    };
    const auto one = run(1);
    for (const int threads : {2, 3, 5}) CHECK(run(threads) == one);
  }
}

TEST_CASE("Sources are followed the same by any number of threads", "[surface]") {
  const Terrain terrain = crooked_yard(96, 110);
  const auto run = [&](int threads) {
    Options options;
    options.threads = threads;
    options.updates_a_thread = 500;
    yards::Run yard(terrain, options);
    yard.rain(100 * yards::mm_per_hour);
    Tags& tags = yard.flow.follow_sources(2);
    std::vector<TagSupply> arriving;
    for (std::size_t c = 0; c < yard.supply.size(); ++c)
      if (yard.supply[c] > 0) arriving.push_back({static_cast<int>(c), c % 96 > 30 ? 1 : 0, yard.supply[c]});
    tags.set_supply(arriving);
    yard.advance(60);
    const auto share = tags.share(1);
    return std::tuple(answer(yard.flow, yard.taken), std::vector<double>(share.begin(), share.end()));
  };
  const auto one = run(1);
  for (const int threads : {2, 3}) CHECK(run(threads) == one);
}

TEST_CASE("A sweep in parts is the sweep", "[surface]") {
  const Terrain terrain = crooked_yard(40, 31);
  const auto& grid = terrain.grid;
  const auto run = [&](int middle, bool north_first) {
    Workspace work(terrain, {});
    Tiles tiles(grid);
    Field depth(grid.cells(), 0.0), taken(depth), left(terrain.open_faces.size(), 0.0),
        crossed(work.crossings.size(), 0.0);
    const Water water{depth, taken, left, crossed};
    for (std::size_t c = 0; c < grid.cells(); ++c) work.supply[c] = terrain.active[c] ? 1e-4 : 0;
    for (int step = 0; step < 200; ++step) {
      if (step % Tiles::steps_valid == 0) mark_tiles(grid, 1.0, Skip::dry, depth, work, tiles);
      const StepNumbers numbers = begin_steps(terrain, {}, 0.05, work);
      Most most;
      const FaceNumbers x_numbers(numbers, numbers.stable_x), y_numbers(numbers, numbers.stable_y);
      Sweep sweep{grid, numbers, x_numbers, y_numbers, tiles, work, water};
      sweep.pass = {&work.q_x, &work.q_y, &work.q_x_next, &work.q_y_next};
      sweep.most = &most;
      const auto south = [&] {
        for (int j = 0; j < middle; ++j) advance_row(sweep, j);
      };
      if (!north_first) south();
      for (int j = middle; j < grid.ny + 2; ++j) advance_row(sweep, j, middle);
      if (north_first) south();
      if (middle > 0)
        for (int j = middle; j <= middle + 2; ++j) close_row(sweep, j, middle);
      std::swap(work.q_x, work.q_x_next);
      std::swap(work.q_y, work.q_y_next);
    }
    return std::tuple(depth, left, crossed, work.q_x, work.q_y);
  };
  const auto whole = run(0, false);
  for (const int middle : {3, 10, 16, 28})
    for (const bool north_first : {false, true}) CHECK(run(middle, north_first) == whole);
}
