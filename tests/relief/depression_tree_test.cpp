#include "catch.hpp"

#include <algorithm>
#include <array>

#include <lowspot/relief/depression_tree.hpp>

#include "grounds.hpp"

using namespace lowspot;
using namespace lowspot::relief;

namespace {

// What a basin is, whatever way the grid lies: bottom, spill level and volume. One whose parts meet exactly
// at the level at which it spills itself is its parts.
std::vector<std::array<double, 3>> basins(const DepressionTree& tree) {
  std::vector<std::array<double, 3>> result;
  for (const Depression& d : tree.depressions) {
    if (d.left >= 0 && tree.depressions[d.left].spill_level == d.spill_level) continue;
    if (d.left < 0 && d.spill_level == d.bottom) continue;
    result.push_back({d.bottom, d.spill_level, std::round(d.volume * 1e9)});
  }
  std::sort(result.begin(), result.end());
  return result;
}

// Water over all finished basins, filled to the brim.
double brim_volume(const DepressionTree& tree) {
  double sum = 0;
  for (int d : tree.finished) sum += tree.depressions[d].volume;
  return sum;
}

// The same by the plain fixed point: w = max(z, lowest over the faces of max(wall, w beyond)).
double filled_volume(const Land& land, bool& closed) {
  const Grid& grid = land.grid;
  const double high = std::numeric_limits<double>::infinity();
  Field w(grid.cells(), high);
  for (const OpenFace& open : land.open_faces) {
    const int i = grid.column(open.cell), j = grid.row(open.cell);
    const double crest = open.side < 2 ? land.crest_x[grid.x_face(i + open.side, j)]
                                       : land.crest_y[grid.y_face(i, j + open.side - 2)];
    w[open.cell] = std::min(w[open.cell], std::max(land.elevation[open.cell], crest));
  }
  for (bool changed = true; changed;) {
    changed = false;
    for (int j = 0; j < grid.ny; ++j)
      for (int i = 0; i < grid.nx; ++i) {
        const std::size_t c = grid.index(i, j);
        if (!land.active[c]) continue;
        const auto look = [&](bool exists, std::size_t other, double crest) {
          if (!exists || !land.active[other]) return;
          const double level = std::max({land.elevation[c], w[other], crest});
          changed = changed || level < w[c];
          w[c] = std::min(w[c], level);
        };
        if (i > 0) look(true, c - 1, land.crest_x[grid.x_face(i, j)]);
        if (i + 1 < grid.nx) look(true, c + 1, land.crest_x[grid.x_face(i + 1, j)]);
        if (j > 0) look(true, c - grid.nx, land.crest_y[grid.y_face(i, j)]);
        if (j + 1 < grid.ny) look(true, c + grid.nx, land.crest_y[grid.y_face(i, j + 1)]);
      }
  }
  double sum = 0;
  closed = false;
  for (std::size_t c = 0; c < w.size(); ++c) {
    if (!land.active[c]) continue;
    if (w[c] == high)
      closed = true;
    else
      sum += (w[c] - land.elevation[c]) * grid.cell_area();
  }
  return sum;
}

} // namespace

TEST_CASE("volumes equal filling to the brim, on rough ground with walls, gaps and ties", "[relief]") {
  const double step = GENERATE(1e-9, 0.05, 0.25), walls = GENERATE(0.0, 0.2), gaps = GENERATE(0.0, 0.05);
  for (unsigned seed = 1; seed <= 8; ++seed) {
    const Land land = rough_land(37, 29, seed, step, walls, gaps);
    const DepressionTree tree = build_depression_tree(land.view());
    bool closed = false;
    CHECK_THAT(brim_volume(tree), WithinAbs(filled_volume(land, closed), 1e-9));
    CHECK(tree.closed.empty() == !closed);
  }
}

TEST_CASE("the hierarchy is the same whatever way the grid lies", "[relief]") {
  const double step = GENERATE(1e-9, 0.05, 0.25);
  for (unsigned seed = 1; seed <= 6; ++seed) {
    Land land = rough_land(33, 26, seed, step, 0.15, 0.03);
    const auto first = basins(build_depression_tree(land.view()));
    REQUIRE(!first.empty());
    for (int k = 0; k < 8; ++k) {
      land = k == 4 ? mirrored(land) : turned(land);
      CHECK(basins(build_depression_tree(land.view())) == first);
    }
  }
}

TEST_CASE("a level patch is a pit only where there is no way down", "[relief]") {
  // Terraces that fall to the west, and one hollow with a level floor.
  Land land = rough_land(12, 5, 1, 1e-9, 0, 0);
  for (int j = 0; j < 5; ++j)
    for (int i = 0; i < 12; ++i) land.elevation[land.grid.index(i, j)] = i < 4 ? 0 : i < 8 ? 1 : 2;
  for (int i : {5, 6})
    for (int j : {1, 2, 3}) land.elevation[land.grid.index(i, j)] = 0.5;
  land.open_faces = {{static_cast<int>(land.grid.index(0, 2)), 0}};
  for (int turn = 0; turn < 4; ++turn) {
    const DepressionTree tree = build_depression_tree(land.view());
    REQUIRE(tree.depressions.size() == 1);
    CHECK(tree.depressions[0].bottom == 0.5);
    CHECK(tree.depressions[0].spill_level == 1.0);
    CHECK_THAT(tree.depressions[0].volume, WithinAbs(6 * 0.5 * 0.25, 1e-12));
    land = turned(land);
  }
}

TEST_CASE("pits shed to where steepest descent leads", "[relief]") {
  const Land land = rough_land(40, 30, 5, 1e-9, 0, 0);
  const DepressionTree tree = build_depression_tree(land.view());
  const Grid& grid = land.grid;
  std::vector<char> edge(grid.cells(), 0);
  for (const OpenFace& open : land.open_faces) edge[open.cell] = 1;
  for (int j = 0; j < grid.ny; ++j)
    for (int i = 0; i < grid.nx; ++i) {
      std::size_t cell = grid.index(i, j);
      for (;;) { // walks down
        const int a = grid.column(cell), b = grid.row(cell);
        std::size_t lowest = cell;
        const auto look = [&](int x, int y) {
          if (grid.inside(x, y) && land.elevation[grid.index(x, y)] < land.elevation[lowest])
            lowest = grid.index(x, y);
        };
        look(a - 1, b);
        look(a + 1, b);
        look(a, b - 1);
        look(a, b + 1);
        if (lowest == cell) break;
        cell = lowest;
      }
      const int pit = tree.pit[grid.index(i, j)];
      if (pit == pit_outside)
        CHECK(edge[cell]);
      else
        CHECK(tree.depressions[pit].bottom_cell == static_cast<int>(cell));
    }
}

TEST_CASE("adding a height to everything changes volumes by round-off only", "[relief]") {
  Land land = rough_land(30, 30, 2, 1e-9, 0.1, 0);
  const double before = brim_volume(build_depression_tree(land.view()));
  for (Field* field : {&land.elevation, &land.crest_x, &land.crest_y})
    for (double& z : *field) z += 4000;
  CHECK_THAT(brim_volume(build_depression_tree(land.view())), WithinAbs(before, 1e-8));
}
