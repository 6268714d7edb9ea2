#include <lowspot/terrain/swale.hpp>

#include <cmath>
#include <numbers>

#include <lowspot/terrain/reshape.hpp>
#include <lowspot/terrain/yard_grid.hpp>

#include "catch.hpp"
#include "filling.hpp"
#include "yards.hpp"

using namespace lowspot;
using namespace lowspot::terrain;

namespace {
double at(const Ground& ground, double x, double y) {
  return ground.elevation[cell_at(ground.grid, x, y)];
}
// Level at 1 m, 10 m square, cells of 1/8 m.
Ground level_ground() {
  return bare_ground(80, 80, 0.125, [](int, int) { return 1.0; });
}
site::Site square() {
  return plain_site(rectangle(0, 0, 10, 10), 0.125);
}
site::Regrade along_the_middle(const std::string& kind, double level) {
  site::Regrade work;
  work.name = "ditch";
  work.kind = kind;
  work.path = {{0, 5, level}, {10, 5, level}};
  work.width = 1;
  work.side_slope = 0.25;
  return work;
}
} // namespace

TEST_CASE("a swale ends where it meets the ground: a hill beyond is not cut", "[swale]") {
  Ground ground = level_ground();
  for (std::size_t c = 0; c < ground.elevation.size(); ++c)
    if (ground.grid.y(ground.grid.row(c)) > 8) ground.elevation[c] = 3;
  const Ground before = ground;
  lay_along_path(square(), along_the_middle("swale", 0.8), ground);
  CHECK_THAT(at(ground, 5, 5), WithinAbs(0.8, 1e-12));
  CHECK_THAT(at(ground, 5, 5.9), WithinAbs(0.8 + 0.25 * (0.9375 - 0.5), 1e-9));
  CHECK(at(ground, 5, 7) == 1.0);
  CHECK(at(ground, 5, 8.5) == 3.0); // the side, carried on, would be at 1.55 there
  for (std::size_t c = 0; c < ground.elevation.size(); ++c)
    if (ground.grid.y(ground.grid.row(c)) > 7) CHECK(ground.elevation[c] == before.elevation[c]);
}

TEST_CASE("a berm ends where it meets the ground: a hollow beyond is not filled", "[swale]") {
  Ground ground = level_ground();
  for (std::size_t c = 0; c < ground.elevation.size(); ++c)
    if (ground.grid.y(ground.grid.row(c)) > 8) ground.elevation[c] = 0;
  lay_along_path(square(), along_the_middle("berm", 1.2), ground);
  CHECK_THAT(at(ground, 5, 5), WithinAbs(1.2, 1e-12));
  CHECK(at(ground, 5, 8.5) == 0.0);
}

TEST_CASE("ground behind a house is not shaped through it", "[swale]") {
  Ground ground = level_ground();
  for (std::size_t c = 0; c < ground.elevation.size(); ++c) {
    const double y = ground.grid.y(ground.grid.row(c));
    if (y > 5.75 && y < 6.25) ground.active[c] = 0; // a wall to wall row of houses
  }
  lay_along_path(square(), along_the_middle("swale", 0.6), ground);
  CHECK_THAT(at(ground, 5, 5.6), WithinAbs(0.6 + 0.25 * (0.5625 - 0.5), 1e-9));
  CHECK(at(ground, 5, 6.3) == 1.0); // the side would cut it to 0.8
  CHECK(at(ground, 5, 4.2) < 1.0);
}

TEST_CASE("slabs are left as they are and named", "[swale]") {
  site::Site site = square();
  site.areas = {patio(rectangle(4, 5.5, 6, 9)), patio(rectangle(0, 9, 2, 10))};
  site.areas[1].name = "walk";
  for (const char* kind : {"swale", "berm"}) {
    Ground ground = level_ground();
    lay_along_path(site, along_the_middle(kind, std::string(kind) == "swale" ? 0.7 : 1.3), ground);
    CHECK(at(ground, 5, 5.6) == 1.0);
    CHECK(at(ground, 3, 5.6) != 1.0);
    REQUIRE(ground.warnings.size() == 1);
    CHECK_THAT(ground.warnings[0], ContainsSubstring("'ditch'") && ContainsSubstring("\"patio\""));
  }
}

TEST_CASE("a bed narrower than a cell is a cell wide", "[swale]") {
  Ground ground = bare_ground(20, 20, 0.5, [](int, int) { return 1.0; });
  site::Regrade work = along_the_middle("swale", 0.8);
  work.path = {{0, 5.2, 0.8}, {10, 5.2, 0.8}};
  work.width = 0.1;
  lay_along_path(plain_site(rectangle(0, 0, 10, 10), 0.5), work, ground);
  for (double x = 0.25; x < 10; x += 0.5) CHECK(at(ground, x, 5.2) < 0.85);
}

TEST_CASE("a narrow bed across the cells aslant has no bumps", "[swale]") {
  Ground ground = bare_ground(20, 20, 0.5, [](int, int) { return 1.0; });
  site::Regrade work = along_the_middle("swale", 0.8);
  work.path = {{0.5, 2, 0.8}, {9.5, 7.3, 0.8}};
  work.width = 0.3;
  lay_along_path(plain_site(rectangle(0, 0, 10, 10), 0.5), work, ground);
  for (double along = 0.5; along < 10; along += 0.1) { // the cell on the line, which water follows
    const Point on = point_along({{0.5, 2}, {9.5, 7.3}}, along);
    CHECK_THAT(at(ground, on.x, on.y), WithinAbs(0.8, 1e-12));
  }
}

namespace {
struct Shaped {
  Ground ground;
  double drawn = 0; // m3
  double moved = 0; // m3, by the cells
};
// A bed through the middle of 20 m, in some direction, `reach` long on either side and `depth` below a plane
// that falls along it.
Shaped shaped(double cell, double width, double turn, double reach, double fall, double depth) {
  const int n = static_cast<int>(20 / cell);
  const Point middle{10 + 0.37 * cell, 10 - 0.21 * cell};
  const auto level = [&](double x, double y) {
    return 1 - fall * ((x - middle.x) * std::cos(turn) + (y - middle.y) * std::sin(turn));
  };
  Shaped made{
      bare_ground(n, n, cell, [&](int i, int j) { return level((i + 0.5) * cell, (j + 0.5) * cell); })};
  site::Regrade work;
  work.name = "ditch";
  work.kind = "swale";
  work.width = width;
  work.side_slope = 0.25;
  for (const double along : {-reach, reach}) {
    const Point at{middle.x + along * std::cos(turn), middle.y + along * std::sin(turn)};
    work.path.push_back({at.x, at.y, level(at.x, at.y) - depth});
  }
  const Field before = made.ground.elevation;
  made.drawn = lay_along_path(plain_site(rectangle(0, 0, n * cell, n * cell), cell), work, made.ground);
  for (std::size_t c = 0; c < before.size(); ++c)
    made.moved += (before[c] - made.ground.elevation[c]) * cell * cell;
  return made;
}
} // namespace

// On level ground a trapezoid of the length of the path, and half a round pit of the same banks at either
// end.
TEST_CASE("the earth of a swale is that of its section, in any cells, at any angle", "[swale]") {
  const double depth = 0.2;
  for (const double cell : {0.15, 0.3, 0.5})
    for (const double width : {0.0, 0.3, 0.9})
      for (int k = 0; k < 12; ++k) {
        const Shaped made = shaped(cell, width, 0.53 * k, 7, 0, depth);
        const double bed = width / 2, out = bed + depth / 0.25;
        const double exact = (width * depth + depth * depth / 0.25) * 14 +
                             std::numbers::pi * depth * (out * out + out * bed + bed * bed) / 3;
        CAPTURE(cell, width, k);
        CHECK_THAT(made.drawn, WithinRel(exact, 0.003)); // the banks end within eighths of a cell
        // The cells along the path are as deep as the bed, however narrow it is.
        CHECK(made.moved > exact * (1 - 0.003));
        CHECK(made.moved < exact * (width > 0 ? 1.12 : 1.4));
      }
}

TEST_CASE("water finds its way out of a swale that is cut in parts of cells, at any angle", "[swale]") {
  for (const double width : {0.0, 0.3})
    for (int k = 0; k < 12; ++k) {
      Shaped made = shaped(0.5, width, 0.53 * k, 20, 0.02, 0.2); // in and out through the limits
      for (const Side side : {Side::west, Side::east, Side::south, Side::north}) open_side(made.ground, side);
      const Field brim = filled(made.ground);
      double held = 0;
      for (std::size_t c = 0; c < brim.size(); ++c) held += brim[c] - made.ground.elevation[c];
      CAPTURE(width, k);
      CHECK(held == 0);
    }
}

TEST_CASE("a bed much narrower than it can be in such cells is told of, since it holds too much water",
          "[swale]") {
  for (const double width : {0.1, 1.0}) {
    Ground ground = bare_ground(10, 10, 1.0, [](int, int) { return 1.0; });
    site::Regrade work = along_the_middle("swale", 0.8);
    work.width = width;
    lay_along_path(plain_site(rectangle(0, 0, 10, 10), 1.0), work, ground);
    INFO(width);
    CHECK(ground.warnings.size() == (width < 0.5 ? 1 : 0));
  }
  Ground ground = bare_ground(10, 10, 1.0, [](int, int) { return 1.0; });
  site::Regrade work = along_the_middle("berm", 1.2);
  work.width = 0.1;
  lay_along_path(plain_site(rectangle(0, 0, 10, 10), 1.0), work, ground);
  REQUIRE(ground.warnings.size() == 1);
  CHECK_THAT(ground.warnings[0],
             ContainsSubstring("'ditch'") && ContainsSubstring("its crest is 1000 mm wide, not 100 mm"));
}
