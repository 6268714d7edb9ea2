#include "catch.hpp"
#include "figures.hpp"

#include <cmath>

#include <lowspot/terrain/ground.hpp>
#include <lowspot/terrain/low_spots.hpp>
#include <lowspot/terrain/reshape.hpp>

#include "yards.hpp"

using namespace lowspot;
using namespace lowspot::terrain;

namespace {
bool any(const std::vector<std::string>& sentences, const std::string& part) {
  for (const std::string& sentence : sentences)
    if (sentence.find(part) != std::string::npos) return true;
  return false;
}
} // namespace

TEST_CASE("a yard put together: plane ground, patio, house, wall", "[ground]") {
  site::Site site = plain_site(rectangle(0, 0, 12, 8), 0.25);
  lay_plane(site, 50, 0.02, -0.01);
  site.areas.push_back(patio(rectangle(2, 2, 6, 5)));
  site.areas[0].surface = {{2, 2, 50.2}, {6, 2, 50.2}, {2, 5, 50.25}};
  site.buildings.push_back({"house", rectangle(3, 6, 9, 8), {}});
  site.walls.push_back({"edging", {{8, 1}, {8, 4}}, 0.1});
  const Ground ground = build_ground(site);
  REQUIRE(ground.grid.nx == 48);
  REQUIRE(ground.grid.ny == 32);
  CHECK(ground.outside_hull_share == 0);
  CHECK(ground.warnings.empty());
  int active = 0;
  for (std::size_t c = 0; c < ground.grid.cells(); ++c) {
    const double x = ground.grid.x(ground.grid.column(c)), y = ground.grid.y(ground.grid.row(c));
    const bool on_patio = x > 2 && x < 6 && y > 2 && y < 5;
    const double z = on_patio ? 50.2 + 0.05 / 3 * (y - 2) : 50 + 0.02 * x - 0.01 * y;
    CHECK_THAT(ground.elevation[c], WithinAbs(z, 1e-9));
    active += ground.active[c];
  }
  CHECK(active == 48 * 32 - 24 * 8);
  CHECK(ground.edges.size() == 2 * 48 + 2 * 32 - 24);
  const std::size_t face = ground.grid.x_face(32, 8);
  CHECK_THAT(ground.crest_x[face], WithinAbs(50 + 0.02 * 8 - 0.01 * ground.grid.y(8) + 0.1, 1e-8));
  double seen = 0;
  for (double share : ground.areas[0].fractions) seen += share * 0.0625;
  CHECK_THAT(seen, WithinAbs(12, 1e-9));
}

TEST_CASE("every field has a finite value in every cell, active or not", "[ground]") {
  site::Site site = plain_site({{0, 0}, {10, 1}, {7, 9}}, 0.3);
  site.ground.breaklines = {{{2, 2, 1}, {8, 2, 1.2}}, {{6, 6, 1.5}, {6.5, 7, 1.4}}};
  site.buildings.push_back({"shed", rectangle(4, 2, 6, 4), {}});
  const Ground ground = build_ground(site);
  for (const Field* field :
       {&ground.elevation, &ground.manning_n, &ground.manning_n_deep, &ground.vegetation_height,
        &ground.depression_storage, &ground.interception, &ground.pervious}) {
    REQUIRE(field->size() == ground.grid.cells());
    for (double value : *field) CHECK(std::isfinite(value));
  }
  CHECK(ground.outside_hull_share > 0.02);
  CHECK(any(ground.warnings, "outside the shots"));
}

TEST_CASE("levels from a rod book make the ground, and a blunder is pointed at", "[ground]") {
  site::Site site = plain_site(rectangle(0, 0, 10, 10), 0.5);
  std::string book = "point,x,y,backsight,intermediate,foresight,note\nBM,,,2.000,,,BM 100.00\n";
  for (int j = 0; j < 6; ++j)
    for (int i = 0; i < 6; ++i) {
      const double z = 100 + 0.01 * i + (i == 3 && j == 2 ? 0.4 : 0);
      book += "p" + std::to_string(6 * j + i) + "," + std::to_string(2 * i) + "," + std::to_string(2 * j) +
              ",," + std::to_string(102 - z) + ",,\n";
    }
  write_file("book.csv", book + "BM,,,,,2.000,\n");
  site.ground.levels = "book.csv";
  const Ground ground = build_ground(site);
  CHECK_THAT(ground.elevation[ground.grid.index(1, 18)], WithinAbs(100 + 0.005 * 0.75, 1e-6));
  CHECK(any(ground.warnings, "\"p15\" stands"));
  CHECK(ground.outside_hull_share == 0);
}

TEST_CASE("the cell asked for overrides the site's", "[ground]") {
  site::Site site = plain_site(rectangle(0, 0, 4, 3), 0.5);
  lay_plane(site, 1, 0, 0.01);
  CHECK(build_ground(site).grid.nx == 8);
  CHECK(build_ground(site, 0.25).grid.nx == 16);
  // A coarser one that blurs an area is pointed at, as the site file's own would be.
  site::Area bed;
  bed.name = "bed";
  bed.outline = rectangle(1, 1, 2, 1.6);
  site.areas.push_back(bed);
  CHECK_FALSE(any(build_ground(site).warnings, "blurred"));
  CHECK(any(build_ground(site, 1).warnings, "wider than \"bed\""));
}

TEST_CASE("cells that make up more or less ground than the outline encloses are told", "[ground]") {
  site::Site site = plain_site(rectangle(0, 0, 4.6, 3), 1);
  lay_plane(site, 1, 0, 0.01);
  CHECK(any(build_ground(site).warnings, "make up 8.7 % more ground")); // 5 m of 4.6 m
  site.outline = rectangle(0, 0, 4.4, 3);
  CHECK(any(build_ground(site).warnings, "make up 9.1 % less ground")); // 4 m of 4.4 m
  CHECK_FALSE(any(build_ground(site, 0.2).warnings, "ground than it encloses"));
}

TEST_CASE("a low spot in a surveyed lawn has the volume of its cone", "[ground]") {
  // Eight shots on a ring at 1.00, one in the middle at 0.90: a pit whose rim is the lawn around.
  site::Site site = plain_site(rectangle(0, 0, 12, 12), 0.1);
  std::string table = "x,y,elevation\n6,6,0.9\n";
  const int sides = 48;
  for (int k = 0; k < sides; ++k) {
    const double a = 2 * 3.14159265358979324 * k / sides;
    table += std::to_string(6 + 3 * std::cos(a)) + "," + std::to_string(6 + 3 * std::sin(a)) + ",1\n";
  }
  for (const char* corner : {"0,0,1\n", "12,0,1\n", "12,12,1\n", "0,12,1\n"}) table += corner;
  write_file("cone.csv", table);
  site.ground.levels = "cone.csv";
  const auto spots = find_low_spots(build_ground(site));
  REQUIRE(spots.size() == 1);
  const double base = sides / 2.0 * 9 * std::sin(2 * 3.14159265358979324 / sides);
  // Cells sample the cone at their centres.
  CHECK_THAT(spots[0].volume, WithinRel(base * 0.1 / 3, 0.005));
  figures::record("terrain", "cone in a lawn, cells of 0.1 m", "volume of the low spot, m3", base * 0.1 / 3,
                  spots[0].volume, figures::share(0.005));
  CHECK_THAT(spots[0].depth, WithinAbs(0.1, 0.003));
  figures::record("terrain", "cone in a lawn, cells of 0.1 m", "its depth, m", 0.1, spots[0].depth,
                  figures::amount(0.003));
}

TEST_CASE("yards without usable ground are refused", "[ground]") {
  site::Site site = plain_site(rectangle(0, 0, 4, 3), 0.5);
  CHECK_THAT(problem_of([&] { build_ground(site); }), ContainsSubstring("no ground data"));
  lay_plane(site, 1, 0, 0.01);
  site.buildings.push_back({"all", rectangle(-1, -1, 5, 5), {}});
  CHECK_THAT(problem_of([&] { build_ground(site); }), ContainsSubstring("no open ground"));
  site.buildings.clear();
  site.ground.raster = "absent.tif";
  CHECK_FALSE(problem_of([&] { build_ground(site); }).empty());
}

#ifdef LOWSPOT_WITH_GDAL
TEST_CASE("levels refine a raster where they were shot", "[ground]") {
  std::string text = "ncols 20\nnrows 20\nxllcorner 0\nyllcorner 0\ncellsize 1\nNODATA_value -9999\n";
  for (int j = 0; j < 20; ++j) {
    for (int i = 0; i < 20; ++i) text += "7 ";
    text += "\n";
  }
  write_file("flat.asc", text);
  write_file("over.csv", "x,y,elevation\n5,5,6.9\n15,5,7.1\n15,15,6.9\n5,15,7.1\n10,10,6.95\n");
  site::Site site = plain_site(rectangle(0, 0, 20, 20), 0.5);
  site.ground.raster = "flat.asc";
  site.ground.levels = "over.csv";
  const Ground ground = build_ground(site);
  CHECK_THAT(ground.elevation[ground.grid.index(20, 20)], WithinAbs(6.95, 0.01));
  CHECK(ground.elevation[0] > 6.9);
  CHECK(ground.elevation[0] < 7);
  CHECK(ground.outside_hull_share == 0);
  bool said = false;
  for (const site::Assumption& a : ground.assumptions)
    said = said || a.key == "ground.levels over ground.raster";
  CHECK(said);
}

TEST_CASE("levels on another datum move the raster, and it is said", "[ground]") {
  std::string text = "ncols 20\nnrows 20\nxllcorner 0\nyllcorner 0\ncellsize 1\nNODATA_value -9999\n";
  for (int k = 0; k < 400; ++k) text += k % 20 == 19 ? "7\n" : "7 ";
  write_file("flat.asc", text);
  write_file("other.csv", "x,y,elevation\n5,5,30.0\n15,5,30.01\n15,15,29.99\n5,15,30.0\n");
  site::Site site = plain_site(rectangle(0, 0, 20, 20), 0.5);
  site.ground.raster = "flat.asc";
  site.ground.levels = "other.csv";
  const Ground ground = build_ground(site);
  for (double z : ground.elevation) CHECK_THAT(z, WithinAbs(30, 0.011));
  bool warned = false;
  for (const std::string& warning : ground.warnings)
    warned = warned || warning.find("Your levels sit 23 m above the raster") != std::string::npos;
  CHECK(warned);
}
#endif

TEST_CASE("elevation at a point is exact on a plane up to the limit of the grid, and held beyond") {
  terrain::Ground ground;
  ground.grid = {8, 5, 0.5, 10, 20};
  ground.elevation.resize(ground.grid.cells());
  const auto plane = [](double x, double y) { return 3 + 0.2 * x - 0.1 * y; };
  for (int j = 0; j < 5; ++j)
    for (int i = 0; i < 8; ++i)
      ground.elevation[ground.grid.index(i, j)] = plane(ground.grid.x(i), ground.grid.y(j));
  CHECK_THAT(terrain::elevation_at(ground, {11.13, 21.4}), WithinAbs(plane(11.13, 21.4), 1e-12));
  for (const Point at : {Point{10, 21.3}, {14, 22.5}, {10, 20}, {12.2, 20.1}})
    CHECK_THAT(terrain::elevation_at(ground, at), WithinAbs(plane(at.x, at.y), 1e-12));
  CHECK_THAT(terrain::elevation_at(ground, {0, 21.25}), WithinAbs(plane(10, 21.25), 1e-12));
  // A step of the last cell is not carried on, and where it turns round the ground is held.
  for (int j = 0; j < 5; ++j) ground.elevation[ground.grid.index(7, j)] += 1;
  CHECK_THAT(terrain::elevation_at(ground, {14, 21.25}), WithinAbs(1 + plane(14, 21.25), 1e-12));
  for (int j = 0; j < 5; ++j) ground.elevation[ground.grid.index(7, j)] -= 2;
  CHECK_THAT(terrain::elevation_at(ground, {14, 21.25}), WithinAbs(plane(13.75, 21.25) - 1, 1e-12));
}

TEST_CASE("at a wall and at the limit of a turned yard, the ground is the yard's: its slabs, and as a design "
          "left it") {
  for (const double cell : {0.1, 0.25}) {
    site::Site site = plain_site(rectangle(0, 0, 8, 8), cell);
    lay_plane(site, 10, 0, 0);
    site::Building house;
    house.name = "house";
    house.outline = rectangle(1, 5, 7, 8);
    site.buildings = {house};
    site.areas = {patio(rectangle(1, 3, 3, 5))};
    site.areas[0].surface = {{1, 3, 10.06}, {3, 3, 10.06}, {1, 5, 10.1}};
    const Ground ground = build_ground(site);
    CHECK_THAT(elevation_at(ground, {2, 5}), WithinAbs(10.1, 1e-9));
    CHECK_THAT(elevation_at(ground, {5, 5}), WithinAbs(10, 1e-9));
    site::Design design;
    site::Regrade away;
    away.kind = "plane";
    away.outline = rectangle(3, 2, 8, 5);
    away.surface = {{3, 5, 10.15}, {7, 5, 10.15}, {3, 2, 10}};
    design.regrades = {away};
    CHECK_THAT(elevation_at(reshape(site, ground, design), {5, 5}), WithinAbs(10.15, 1e-9));
  }
  // A yard turned by 17 degrees, filled by 0.1 m to its limits: the cells beyond them are not filled. In its
  // corners a cell may have none behind it to tell the slope from.
  const double turn = 17 * 3.14159265358979 / 180, side = 8, fall = 0.01;
  const auto placed = [&](double u, double v) {
    return Point{u * std::cos(turn) - v * std::sin(turn), u * std::sin(turn) + v * std::cos(turn)};
  };
  const auto shot = [&](double u, double v, double z) {
    return Point3{placed(u, v).x, placed(u, v).y, z - fall * u};
  };
  site::Site site = plain_site({placed(0, 0), placed(side, 0), placed(side, side), placed(0, side)}, 0.25);
  site.ground.breaklines = {{shot(0, 0, 10), shot(side, 0, 10)}, {shot(0, side, 10), shot(side, side, 10)}};
  site::Design design;
  site::Regrade fill;
  fill.kind = "plane";
  fill.outline = site.outline;
  fill.surface = {shot(0, 0, 10.1), shot(side, 0, 10.1), shot(0, side, 10.1)};
  design.regrades = {fill};
  const Ground filled = reshape(site, build_ground(site), design);
  for (double along = 0; along <= side; along += 0.1)
    for (const Point& place :
         {placed(along, 0), placed(along, side), placed(0, along), placed(side, along)}) {
      const double u = place.x * std::cos(turn) + place.y * std::sin(turn);
      CHECK_THAT(elevation_at(filled, place), WithinAbs(10.1 - fall * u, 0.5 * fall * site.cell));
    }
}

// A gutter that falls evenly, drawn by its two ends among shots some 1.5 m apart; its banks rise by 6 to 14
// %.
TEST_CASE("ground beside a breakline does not hang on how many points the line is drawn with", "[ground]") {
  const auto height = [](double x, double y) {
    return 10 - 0.01 * x + std::abs(y - 6) * (0.1 + 0.04 * std::sin(x / 2));
  };
  site::Site site = plain_site(rectangle(0, 0, 16, 12), 0.25);
  std::string table = "x,y,elevation\n";
  unsigned state = 5;
  const auto off = [&] { // -0.4 to 0.4
    state = state * 1103515245U + 12345U;
    return (state >> 16 & 1023U) / 1023.0 * 0.8 - 0.4;
  };
  for (double x = -1.5; x < 18; x += 1.5)
    for (double y = -1.5; y < 14; y += 1.5) {
      const double px = x + off(), py = y + off();
      if (std::abs(py - 6) < 0.5) continue;
      table += std::to_string(px) + "," + std::to_string(py) + "," + std::to_string(height(px, py)) + "\n";
    }
  write_file("gutter.csv", table);
  site.ground.levels = "gutter.csv";
  std::vector<Ground> drawn;
  for (const int pieces : {1, 3, 7, 50}) {
    std::vector<Point3> line;
    for (int k = 0; k <= pieces; ++k) {
      const double x = -1 + 18.0 * k / pieces;
      line.push_back({x, 6, 10 - 0.01 * x});
    }
    site.ground.breaklines = {line};
    drawn.push_back(build_ground(site));
  }
  const Grid& grid = drawn[0].grid;
  double apart = 0, squares = 0; // m
  int count = 0;
  for (std::size_t c = 0; c < grid.cells(); ++c) {
    const double x = grid.x(grid.column(c)), y = grid.y(grid.row(c));
    if (std::abs(y - 6) > 2) continue;
    for (const Ground& other : drawn)
      apart = std::max(apart, std::abs(other.elevation[c] - drawn[0].elevation[c]));
    squares += std::pow(drawn[0].elevation[c] - height(x, y), 2);
    ++count;
  }
  CAPTURE(apart, std::sqrt(squares / count));
  CHECK(apart < 0.01);
  CHECK(std::sqrt(squares / count) < 0.006);
}
