#include "catch.hpp"
#include "figures.hpp"

#include <algorithm>
#include <numeric>

#include <lowspot/terrain/low_spots.hpp>

#include "filling.hpp"
#include "three_pits.hpp"

using namespace lowspot;
using namespace lowspot::terrain;

namespace {
double total_volume(const std::vector<LowSpot>& spots) {
  return std::accumulate(spots.begin(), spots.end(), 0.0,
                         [](double sum, const LowSpot& s) { return sum + s.volume; });
}

// A quarter turn, anticlockwise: what lay east lies north.
Ground turned(const Ground& ground) {
  const Grid& old = ground.grid;
  Ground result = bare_ground(old.ny, old.nx, old.cell,
                              [&](int i, int j) { return ground.elevation[old.index(j, old.ny - 1 - i)]; });
  const Grid& grid = result.grid;
  for (int j = 0; j < grid.ny; ++j)
    for (int i = 0; i < grid.nx; ++i) {
      const int a = j, b = old.ny - 1 - i;
      result.active[grid.index(i, j)] = ground.active[old.index(a, b)];
      result.crest_x[grid.x_face(i, j)] = ground.crest_y[old.y_face(a, b + 1)];
      result.crest_x[grid.x_face(i + 1, j)] = ground.crest_y[old.y_face(a, b)];
      result.crest_y[grid.y_face(i, j)] = ground.crest_x[old.x_face(a, b)];
      result.crest_y[grid.y_face(i, j + 1)] = ground.crest_x[old.x_face(a + 1, b)];
    }
  for (EdgeFace edge : ground.edges) {
    const int a = old.column(edge.cell), b = old.row(edge.cell);
    edge.cell = static_cast<int>(grid.index(old.ny - 1 - b, a));
    edge.side = edge.side == Side::east    ? Side::north
                : edge.side == Side::north ? Side::west
                : edge.side == Side::west  ? Side::south
                                           : Side::east;
    result.edges.push_back(edge);
  }
  return result;
}
} // namespace

TEST_CASE("three pits: what a person would list", "[low_spots]") {
  const auto spots = find_low_spots(three_pits());
  REQUIRE(spots.size() == 2);
  const LowSpot &ab = spots[0], &c = spots[1];
  CHECK_THAT(ab.volume, WithinAbs(33.6, 1e-9));
  CHECK_THAT(ab.depth, WithinAbs(0.8, 1e-12));
  CHECK_THAT(ab.area, WithinAbs(54, 1e-12));
  CHECK_THAT(ab.catchment, WithinAbs(60, 1e-12));
  CHECK_THAT(ab.rain_to_fill, WithinAbs(0.56, 1e-12));
  CHECK(ab.id == 1);
  CHECK(ab.spills_into == 2);
  CHECK(ab.at.x < 4);
  CHECK_THAT(ab.spill_at.x, WithinAbs(10, 0.51));
  CHECK(ab.cells.size() == 54);
  CHECK_THAT(c.volume, WithinAbs(13.2, 1e-9));
  CHECK_THAT(c.depth, WithinAbs(0.55, 1e-12));
  CHECK_THAT(c.catchment, WithinAbs(36, 1e-12));
  // 60 mm/h fill it at 6.1111 h.
  CHECK_THAT(c.rain_to_fill / 0.06, WithinAbs(6.1111, 5e-5));
  CHECK(c.spills_into == 0);
  CHECK(c.spill_at.x > 15);
}

TEST_CASE("volumes equal filling to the brim, on rough ground with walls, gaps and ties", "[low_spots]") {
  const double step = GENERATE(1e-9, 0.05, 0.25), walls = GENERATE(0.0, 0.2), gaps = GENERATE(0.0, 0.03);
  for (unsigned seed = 1; seed <= 8; ++seed) {
    const Ground ground = rough_ground(37, 29, seed, step, walls, gaps);
    const auto spots = find_low_spots(ground, 0);
    const Field level = filled(ground);
    // Cells that nothing can leave are no basin with a sill; leave such grounds to their own test.
    bool closed = false;
    double brim = 0, deepest = 0;
    for (std::size_t c = 0; c < level.size(); ++c) {
      if (!ground.active[c]) continue;
      closed = closed || std::isinf(level[c]);
      brim += (level[c] - ground.elevation[c]) * ground.grid.cell_area();
      deepest = std::max(deepest, level[c] - ground.elevation[c]);
    }
    if (closed) continue;
    CHECK_THAT(total_volume(spots), WithinAbs(brim, 1e-9));
    figures::record("terrain", "rough ground, walls, gaps, ties: 96 yards", "volume to the brim, m3", brim,
                    total_volume(spots), figures::amount(1e-9));
    double depth = 0;
    std::vector<int> times(level.size(), 0);
    for (const LowSpot& spot : spots) {
      depth = std::max(depth, spot.depth);
      for (int cell : spot.cells) {
        ++times[cell];
        CHECK_THAT(level[cell], WithinAbs(spot.spill_level, 1e-12));
      }
    }
    CHECK_THAT(depth, WithinAbs(deepest, 1e-12));
    for (std::size_t c = 0; c < level.size(); ++c)
      if (ground.active[c]) CHECK(times[c] == (level[c] > ground.elevation[c] ? 1 : 0));
  }
}

TEST_CASE("a ground turned round keeps its volumes, depths and number of low spots", "[low_spots]") {
  for (unsigned seed = 1; seed <= 10; ++seed) {
    Ground ground = rough_ground(31, 24, seed, seed % 2 ? 1e-9 : 0.1, 0.15, 0.02);
    const auto first = find_low_spots(ground, 0.02);
    double catchment = 0;
    for (const LowSpot& spot : first) catchment += spot.catchment;
    for (int turn = 0; turn < 3; ++turn) {
      ground = turned(ground);
      const auto again = find_low_spots(ground, 0.02);
      REQUIRE(again.size() == first.size());
      double catchment_again = 0;
      for (std::size_t k = 0; k < first.size(); ++k) {
        CHECK_THAT(again[k].volume, WithinAbs(first[k].volume, 1e-9));
        catchment_again += again[k].catchment;
      }
      // Where heights tie, water may take either way; where not, every cell has its one way down.
      if (seed % 2) CHECK_THAT(catchment_again, WithinAbs(catchment, 1e-9));
    }
  }
}

TEST_CASE("adding a height to everything changes nothing", "[low_spots]") {
  Ground ground = rough_ground(30, 30, 2, 1e-9, 0.1, 0);
  const auto before = find_low_spots(ground);
  for (double& z : ground.elevation) z += 4000;
  for (Field* crest : {&ground.crest_x, &ground.crest_y})
    for (double& z : *crest) z += 4000;
  const auto after = find_low_spots(ground);
  REQUIRE(after.size() == before.size());
  for (std::size_t k = 0; k < before.size(); ++k)
    CHECK_THAT(after[k].volume, WithinAbs(before[k].volume, 1e-7));
}

TEST_CASE("a wall at the foot of a slope makes a low spot, spilling over its lowest crest", "[low_spots]") {
  // Falls 0.1 a metre to the west; a wall 0.25 m high stands between columns 1 and 2.
  Ground ground = bare_ground(10, 4, 1, [](int i, int) { return 0.1 * i; });
  open_side(ground, Side::west);
  for (int j = 0; j < 4; ++j) ground.crest_x[ground.grid.x_face(2, j)] = 0.2 + 0.25;
  ground.crest_x[ground.grid.x_face(2, 3)] = 0.2 + 0.15;
  const auto spots = find_low_spots(ground);
  REQUIRE(spots.size() == 1);
  CHECK_THAT(spots[0].spill_level, WithinAbs(0.35, 1e-12));
  CHECK_THAT(spots[0].volume, WithinAbs(4 * (0.15 + 0.05), 1e-12));
  CHECK_THAT(spots[0].catchment, WithinAbs(32, 1e-12));
  CHECK(spots[0].spills_into == 0);
  CHECK_THAT(spots[0].spill_at.y, WithinAbs(3.5, 1e-12));
}

TEST_CASE("an open edge drains at its own level, a wall there holds water back", "[low_spots]") {
  Ground ground = bare_ground(6, 5, 1, [](int i, int) { return 0.1 * i; });
  open_side(ground, Side::west);
  CHECK(find_low_spots(ground).empty());
  for (int j = 0; j < 5; ++j) ground.crest_x[ground.grid.x_face(0, j)] = 0.2; // along the limit itself
  const auto spots = find_low_spots(ground);
  REQUIRE(spots.size() == 1);
  CHECK_THAT(spots[0].volume, WithinAbs(5 * (0.2 + 0.1), 1e-12));
  CHECK(spots[0].spills_into == 0);
}

TEST_CASE("ground closed on all sides", "[low_spots]") {
  SECTION("two deep basins spill into each other") {
    const Ground ground = bare_ground(17, 6, 1, [](int i, int) { return three_pits_elevation(i); });
    const auto spots = find_low_spots(ground);
    REQUIRE(spots.size() == 2);
    CHECK_THAT(spots[0].volume, WithinAbs(33.6, 1e-9));
    CHECK_THAT(spots[1].volume, WithinAbs(6 * (4 * 0.7 + 2 * 0.15), 1e-9));
    CHECK(spots[0].spills_into == 2);
    CHECK(spots[1].spills_into == 1);
    CHECK_THAT(spots[0].catchment + spots[1].catchment, WithinAbs(102, 1e-12));
  }
  SECTION("a single tub is full when all is under water") {
    const auto spots = find_low_spots(
        bare_ground(9, 9, 1, [](int i, int j) { return 0.1 * std::max(std::abs(i - 4), std::abs(j - 4)); }));
    REQUIRE(spots.size() == 1);
    CHECK_THAT(spots[0].spill_level, WithinAbs(0.4, 1e-12));
    CHECK_THAT(spots[0].volume, WithinAbs(0.4 + 8 * 0.3 + 16 * 0.2 + 24 * 0.1, 1e-12));
    CHECK_THAT(spots[0].catchment, WithinAbs(81, 1e-12));
    CHECK(spots[0].spills_into == 0);
  }
  SECTION("a level floor has none") {
    CHECK(find_low_spots(bare_ground(9, 9, 1, [](int, int) { return 7.0; })).empty());
  }
}

TEST_CASE("shallow ones are not listed, and their water counts where it ends up", "[low_spots]") {
  // A dip of 4 mm high on the slope, a pit of 0.3 m at its foot.
  Ground ground = bare_ground(12, 1, 1, [](int i, int) {
    constexpr double z[12] = {0.5, 0.2, 0.55, 0.6, 0.7, 0.8, 0.796, 0.8, 0.9, 1.0, 1.1, 1.2};
    return z[i];
  });
  open_side(ground, Side::west);
  const auto spots = find_low_spots(ground, 0.006);
  REQUIRE(spots.size() == 1);
  CHECK_THAT(spots[0].depth, WithinAbs(0.3, 1e-12));
  CHECK_THAT(spots[0].catchment, WithinAbs(12, 1e-12)); // the edge cell falls inward too
  CHECK(find_low_spots(ground, 0.003).size() == 2);
}
