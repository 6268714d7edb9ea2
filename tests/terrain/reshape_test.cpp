#include <cmath>

#include <lowspot/base/error.hpp>
#include <lowspot/terrain/low_spots.hpp>
#include <lowspot/terrain/reshape.hpp>

#include "catch.hpp"
#include "yards.hpp"

using namespace lowspot;

namespace {
struct SimpleYard {
  site::Site site;
  terrain::Ground ground;
};
SimpleYard simple_yard(int nx, int ny, double cell, const std::function<double(double, double)>& z) {
  SimpleYard yard;
  yard.site = terrain::plain_site(terrain::rectangle(0, 0, nx * cell, ny * cell), cell);
  yard.ground =
      terrain::bare_ground(nx, ny, cell, [&](int i, int j) { return z((i + 0.5) * cell, (j + 0.5) * cell); });
  using terrain::Side;
  for (Side side : {Side::west, Side::east, Side::south, Side::north}) terrain::open_side(yard.ground, side);
  return yard;
}
double at(const terrain::Ground& ground, double x, double y) {
  return ground.elevation[cell_at(ground.grid, x, y)];
}
} // namespace

TEST_CASE("a plane replaces the ground inside its outline, and what was moved is booked") {
  const SimpleYard yard = simple_yard(40, 40, 0.25, [](double, double) { return 1.0; });
  site::Design design;
  site::Regrade work;
  work.name = "lawn";
  work.kind = "plane";
  work.outline = {{2, 2}, {6, 2}, {6, 6}, {2, 6}};
  work.surface = {{2, 2, 1.1}, {6, 2, 0.9}, {2, 6, 1.1}}; // 5 % down to the east through 1.0 at x = 4
  design.regrades = {work};
  CHECK(terrain::changes_ground(design));
  const terrain::Ground ground = terrain::reshape(yard.site, yard.ground, design);
  CHECK_THAT(at(ground, 3.1, 3.1), WithinAbs(1.1 - 0.05 * (3.125 - 2), 1e-12));
  CHECK(at(ground, 7, 7) == 1.0);
  REQUIRE(ground.earthworks.size() == 1);
  // Half is cut, half filled: a wedge of 2 m by 4 m, 0.1 m high.
  CHECK_THAT(ground.earthworks[0].cut, WithinRel(0.4, 1e-9));
  CHECK_THAT(ground.earthworks[0].fill, WithinRel(0.4, 1e-9));
}

TEST_CASE("a swale only cuts and a berm only fills, with sides as they are sloped") {
  const SimpleYard yard = simple_yard(80, 80, 0.125, [](double, double) { return 1.0; });
  site::Design design;
  site::Regrade swale;
  swale.kind = "swale";
  swale.path = {{0, 5, 0.8}, {10, 5, 0.8}};
  swale.width = 1;
  swale.side_slope = 0.25;
  design.regrades = {swale};
  const terrain::Ground cut = terrain::reshape(yard.site, yard.ground, design);
  CHECK_THAT(at(cut, 5, 5), WithinAbs(0.8, 1e-12));
  CHECK_THAT(at(cut, 5, 5.9), WithinAbs(0.8 + 0.25 * (0.9375 - 0.5), 1e-9));
  CHECK(at(cut, 5, 8) == 1.0);
  CHECK(cut.earthworks[0].fill == 0);
  // A trapezium 1 m wide below, 2.6 m above, 0.2 m deep, 10 m long.
  CHECK_THAT(cut.earthworks[0].cut, WithinRel(0.36 * 10, 0.01));
  design.regrades[0].kind = "berm";
  design.regrades[0].path = {{0, 5, 1.2}, {10, 5, 1.2}};
  const terrain::Ground raised = terrain::reshape(yard.site, yard.ground, design);
  CHECK(raised.earthworks[0].cut == 0);
  CHECK_THAT(raised.earthworks[0].fill, WithinRel(0.36 * 10, 0.01));
}

TEST_CASE("the earth of a narrow swale or berm is booked as it is drawn, not as wide as cells are") {
  const SimpleYard yard = simple_yard(20, 20, 0.5, [](double, double) { return 1.0; });
  for (const bool swale : {true, false}) {
    site::Design design;
    design.regrades.resize(1);
    design.regrades[0].kind = swale ? "swale" : "berm";
    design.regrades[0].path = {{0, 5.1, swale ? 0.8 : 1.2}, {10, 5.1, swale ? 0.8 : 1.2}};
    design.regrades[0].width = 0.1;
    design.regrades[0].side_slope = 0.5;
    const terrain::Earthwork moved = terrain::reshape(yard.site, yard.ground, design).earthworks[0];
    // 0.1 m wide below, 0.9 m above: bed and banks end within eighths of a cell.
    CHECK_THAT(swale ? moved.cut : moved.fill, WithinRel(0.1 * 10, 0.02));
    CHECK((swale ? moved.fill : moved.cut) == 0);
  }
}

TEST_CASE("a basin holds water up to its overflow") {
  const SimpleYard yard = simple_yard(60, 60, 0.2, [](double x, double) { return 2 - 0.01 * x; });
  site::Design design;
  site::Basin work;
  work.name = "rain garden";
  work.outline = {{4, 4}, {8, 4}, {8, 8}, {4, 8}};
  work.depth = 0.2;
  work.side_slope = 1;
  work.conductivity_factor = 4;
  work.depth_added = 0.1;
  design.basins = {work};
  for (double overflow : {std::nan(""), 2.0}) {
    design.basins[0].overflow = overflow;
    const terrain::Ground ground = terrain::reshape(yard.site, yard.ground, design);
    const double spill = std::isnan(overflow) ? 2 - 0.01 * 8.1 : 2.0;
    CHECK_THAT(at(ground, 6, 6), WithinAbs(spill - 0.2, 1e-9));
    CHECK(ground.amended[cell_at(ground.grid, 6, 6)] == 0);
    CHECK(ground.amended[cell_at(ground.grid, 2, 2)] == -1);
    CHECK(ground.amendments[0].conductivity_factor == 4);
    const auto spots = terrain::find_low_spots(ground);
    REQUIRE(!spots.empty());
    CHECK_THAT(spots[0].depth, WithinAbs(0.2, 1e-6));
  }
  design.basins[0].overflow = 1.5;
  CHECK_THROWS_AS(terrain::reshape(yard.site, yard.ground, design), InputError);
}

TEST_CASE("the ground of a design is reshaped once, and left alone where the design shapes nothing") {
  const SimpleYard yard = simple_yard(60, 60, 0.2, [](double x, double) { return 2 - 0.01 * x; });
  site::Design design;
  CHECK(terrain::ground_of(yard.site, yard.ground, design).elevation == yard.ground.elevation);
  site::Basin work;
  work.name = "rain garden";
  work.outline = {{4, 4}, {8, 4}, {8, 8}, {4, 8}};
  work.depth = 0.2;
  work.side_slope = 1;
  design.basins = {work};
  const terrain::Ground once = terrain::ground_of(yard.site, yard.ground, design);
  CHECK(once.elevation == terrain::reshape(yard.site, yard.ground, design).elevation);
  CHECK(once.elevation != yard.ground.elevation);
  CHECK(terrain::ground_of(yard.site, once, design).elevation == once.elevation);
}

TEST_CASE(
    "earth moved further than a yard is ever dug is refused: a level in other figures than the ground's") {
  const SimpleYard yard = simple_yard(40, 40, 0.25, [](double, double) { return 100.0; });
  const auto problem = [&](const site::Design& design) {
    return terrain::problem_of([&] { terrain::reshape(yard.site, yard.ground, design); });
  };
  const auto plane = [](double level) {
    site::Design design;
    site::Regrade work;
    work.name = "lawn";
    work.line = 12;
    work.kind = "plane";
    work.outline = {{2, 2}, {6, 2}, {6, 6}, {2, 6}};
    work.surface = {{2, 2, level}, {6, 2, level}, {2, 6, level}};
    design.regrades = {work};
    return design;
  };
  CHECK(problem(plane(98)) == "");
  CHECK(problem(plane(102)) == "");
  CHECK_THAT(problem(plane(10)),
             ContainsSubstring("site.toml:12: regrade 'lawn'") && ContainsSubstring("90 m below the ground"));
  CHECK_THAT(problem(plane(1000)), ContainsSubstring("900 m above the ground"));
  site::Design swale;
  site::Regrade work;
  work.name = "ditch";
  work.kind = "swale";
  work.path = {{1, 5, 10}, {9, 5, 9.8}};
  work.width = 0.6;
  work.side_slope = 1.0 / 3;
  swale.regrades = {work};
  CHECK_THAT(problem(swale), ContainsSubstring("'ditch'") && ContainsSubstring("below the ground"));
  site::Design garden;
  site::Basin basin;
  basin.name = "garden";
  basin.line = 20;
  basin.outline = {{2, 2}, {8, 2}, {8, 8}, {2, 8}};
  basin.depth = 0.15;
  basin.overflow = 200;
  basin.side_slope = 1.0 / 3;
  garden.basins = {basin};
  CHECK_THAT(problem(garden), ContainsSubstring("site.toml:20: basin 'garden'") &&
                                  ContainsSubstring("100 m above the ground"));
}

TEST_CASE("the uphill bank of a basin slopes from the ground at its outline, inward") {
  const SimpleYard yard = simple_yard(100, 60, 0.1, [](double x, double) { return 2 - 0.1 * x; });
  site::Design design;
  site::Basin work;
  work.name = "rain garden";
  work.outline = {{3, 1}, {7, 1}, {7, 5}, {3, 5}};
  work.depth = 0.15;
  work.side_slope = 0.5;
  design.basins = {work};
  const terrain::Ground ground = terrain::reshape(yard.site, yard.ground, design);
  CHECK(at(ground, 2.95, 3) == at(yard.ground, 2.95, 3));
  const double overflow = 2 - 0.1 * 7.05;
  for (double x = 3.05; x < 7; x += 0.1) { // no step: nothing falls by more than the side slope
    INFO(x);
    CHECK(at(ground, x - 0.1, 3) - at(ground, x, 3) < 0.5 * 0.1 + 1e-9);
  }
  CHECK_THAT(at(ground, 3.05, 3), WithinAbs(1.7 - 0.5 * 0.05, 1e-9));
  CHECK_THAT(at(ground, 5.5, 3), WithinAbs(overflow - 0.15, 1e-9));
  CHECK(ground.warnings.empty());
  // Sides as flat as that meet before the bottom.
  design.basins[0].side_slope = 0.05;
  const terrain::Ground narrow = terrain::reshape(yard.site, yard.ground, design);
  REQUIRE(narrow.warnings.size() == 1);
  CHECK_THAT(narrow.warnings[0], ContainsSubstring("'rain garden'") && ContainsSubstring("banks meet"));
}

TEST_CASE("a plane leaves a slab as it is, and says so") {
  SimpleYard yard = simple_yard(40, 40, 0.25, [](double, double) { return 1.0; });
  yard.site.areas = {terrain::patio(terrain::rectangle(4, 4, 6, 8))};
  site::Design design;
  site::Regrade work;
  work.name = "lawn";
  work.kind = "plane";
  work.outline = {{2, 2}, {7, 2}, {7, 7}, {2, 7}};
  work.surface = {{2, 2, 0.9}, {6, 2, 0.9}, {2, 6, 0.9}};
  design.regrades = {work};
  const terrain::Ground ground = terrain::reshape(yard.site, yard.ground, design);
  CHECK(at(ground, 5, 5) == 1.0);
  CHECK_THAT(at(ground, 3, 3), WithinAbs(0.9, 1e-12));
  REQUIRE(ground.warnings.size() == 1);
  CHECK_THAT(ground.warnings[0], ContainsSubstring("'lawn'") && ContainsSubstring("\"patio\""));
  design.regrades[0].surface = {{2, 2, 1}, {6, 2, 1}, {2, 6, 1}}; // as the slab lies
  CHECK(terrain::reshape(yard.site, yard.ground, design).warnings.empty());
}

TEST_CASE("a basin at the open edge of the yard overflows there, and it is said") {
  SimpleYard yard = simple_yard(60, 60, 0.2, [](double x, double) { return 2 - 0.01 * x; });
  site::Design design;
  site::Basin work;
  work.name = "rain garden";
  work.outline = {{8, 4}, {12, 4}, {12, 8}, {8, 8}}; // the yard ends at 12
  work.depth = 0.15;
  work.side_slope = 1;
  design.basins = {work};
  const terrain::Ground ground = terrain::reshape(yard.site, yard.ground, design);
  CHECK_THAT(at(ground, 10, 6), WithinAbs(2 - 0.01 * 11.9 - 0.15, 1e-9)); // below the ground at the edge
  REQUIRE(ground.warnings.size() == 1);
  CHECK_THAT(ground.warnings[0], ContainsSubstring("open edge"));
  design.basins[0].overflow = 2; // held by a berm, at the edge as well
  CHECK(terrain::reshape(yard.site, yard.ground, design).warnings.empty());
  design.basins[0].overflow = std::nan("");
  for (terrain::EdgeFace& face : yard.ground.edges) face.open = false;
  CHECK(terrain::reshape(yard.site, yard.ground, design).warnings.empty());
}

TEST_CASE(
    "a swale that falls into a basin is no way out of it: the basin is dug below the overflow that is given, "
    "without a berm across the swale") {
  const SimpleYard yard = simple_yard(80, 80, 0.1, [](double, double) { return 1.0; });
  site::Design design;
  site::Regrade swale;
  swale.name = "feeder";
  swale.kind = "swale";
  swale.path = {{4, 7.5, 0.92}, {4, 4.5, 0.9}};
  swale.width = 0.3;
  swale.side_slope = 0.5;
  site::Basin work;
  work.name = "garden";
  work.outline = {{2, 2}, {6, 2}, {6, 5}, {2, 5}};
  work.depth = 0.15;
  work.side_slope = 0.5;
  design.basins = {work};
  design.basins[0].overflow = 1.0;
  const terrain::Ground alone = terrain::reshape(yard.site, yard.ground, design);
  design.regrades = {swale};
  const terrain::Ground fed = terrain::reshape(yard.site, yard.ground, design);
  CHECK(fed.warnings.size() == alone.warnings.size());
  CHECK(fed.earthworks[1].fill == 0);
  CHECK_THAT(at(fed, 4.05, 3.05), WithinAbs(0.85, 1e-12));
  for (double y = 7.45; y > 3; y -= 0.1) { // down all the way
    INFO(y);
    CHECK(at(fed, 4.05, y - 0.1) < at(fed, 4.05, y) + 1e-12);
  }
  // Both cut what the basin alone does but for the swale's part of it.
  const double together = fed.earthworks[0].cut + fed.earthworks[1].cut;
  CHECK(together > alone.earthworks[0].cut);
  CHECK(fed.earthworks[1].cut < alone.earthworks[0].cut);
  // Without an overflow it is dug below the bed of the swale, as its lowest rim, and the level to write is
  // said.
  design.basins[0].overflow = std::nan("");
  const terrain::Ground deep = terrain::reshape(yard.site, yard.ground, design);
  CHECK(at(deep, 4.05, 3.05) < 0.8);
  REQUIRE(deep.warnings.size() > alone.warnings.size());
  CHECK_THAT(deep.warnings[yard.ground.warnings.size()],
             ContainsSubstring("'garden'") && ContainsSubstring("overflow = 1 "));
  // A berm above the swale's own banks would be run round by way of the swale: it goes across, and it is
  // said.
  design.basins[0].overflow = 1.05;
  const terrain::Ground dammed = terrain::reshape(yard.site, yard.ground, design);
  CHECK_THAT(at(dammed, 4.05, 4.95), WithinAbs(1.05, 1e-12));
  REQUIRE(!dammed.warnings.empty());
  CHECK_THAT(dammed.warnings.back(), ContainsSubstring("dams the swale") && ContainsSubstring("0.05 m"));
}

TEST_CASE("a berm on the low side of a basin leaves the swale open that comes in from above") {
  const SimpleYard yard = simple_yard(80, 80, 0.1, [](double, double y) { return 1.0 + 0.05 * y; });
  site::Design design;
  site::Regrade swale;
  swale.name = "feeder";
  swale.kind = "swale";
  swale.path = {{4, 7.5, 1.3}, {4, 4.5, 1.14}}; // the ground at the basin's upper rim: 1.25
  swale.width = 0.3;
  swale.side_slope = 0.5;
  site::Basin work;
  work.name = "garden";
  work.outline = {{2, 2}, {6, 2}, {6, 5}, {2, 5}};
  work.depth = 0.15;
  work.side_slope = 0.5;
  work.overflow = 1.2; // the ground at its lower rim: 1.1
  design.regrades = {swale};
  design.basins = {work};
  const terrain::Ground ground = terrain::reshape(yard.site, yard.ground, design);
  CHECK_THAT(at(ground, 4.05, 2.05), WithinAbs(1.2, 1e-12)); // the berm
  CHECK(at(ground, 4.05, 4.95) < 1.18);                      // the mouth of the swale
  CHECK_THAT(at(ground, 4.05, 3.05), WithinAbs(1.05, 1e-12));
  const auto spots = terrain::find_low_spots(ground);
  REQUIRE(!spots.empty());
  CHECK_THAT(spots[0].depth, WithinAbs(0.15, 1e-6));
}

TEST_CASE("soil amended in less than a cell, so that nothing is, is told of") {
  const SimpleYard yard = simple_yard(20, 20, 0.5, [](double, double) { return 1.0; });
  site::Design design;
  site::Amend pit;
  pit.name = "tree pit";
  pit.outline = {{5.3, 5.3}, {5.7, 5.3}, {5.7, 5.7}, {5.3, 5.7}}; // between the middles of four cells
  pit.conductivity_factor = 3;
  design.amends = {pit};
  const terrain::Ground ground = terrain::reshape(yard.site, yard.ground, design);
  REQUIRE(ground.warnings.size() == 1);
  CHECK_THAT(ground.warnings[0], ContainsSubstring("'tree pit' changes nothing"));
  design.amends[0].outline[2] = {5.9, 5.9};
  const terrain::Ground larger = terrain::reshape(yard.site, yard.ground, design);
  CHECK(larger.warnings.empty());
  CHECK(larger.amended[cell_at(larger.grid, 5.75, 5.75)] == 0);
}

// On level ground at 1 m: 3 m by 2 m above, sides of one in three down to 0.15 m.
TEST_CASE("a rain garden beside a patio's step is dug as one in the open") {
  const SimpleYard open = simple_yard(80, 64, 0.125, [](double, double) { return 1.0; });
  SimpleYard stepped = simple_yard(
      80, 64, 0.125, [](double x, double y) { return x > 2 && x < 6 && y > 0.5 && y < 3 ? 1.15 : 1.0; });
  terrain::Ground& ground = stepped.ground;
  ground.natural_elevation.assign(ground.elevation.size(), 1.0);
  ground.slab_thickness.assign(ground.elevation.size(), 0.0);
  ground.base_depth = ground.slab_thickness;
  for (std::size_t c = 0; c < ground.elevation.size(); ++c)
    if (ground.elevation[c] > 1.1) ground.slab_thickness[c] = 0.1;
  site::Design design;
  site::Basin garden;
  garden.name = "garden";
  garden.outline = {{2.5, 3}, {5.5, 3}, {5.5, 5}, {2.5, 5}};
  garden.depth = 0.15;
  garden.side_slope = 1.0 / 3;
  design.basins = {garden};
  const double exact = 6 * 0.15 - 30 * 0.15 * 0.15 / 2 + 36 * 0.15 * 0.15 * 0.15 / 3;
  for (const SimpleYard* yard : {&open, static_cast<const SimpleYard*>(&stepped)}) {
    const terrain::Ground dug = terrain::reshape(yard->site, yard->ground, design);
    CHECK_THAT(dug.earthworks[0].cut, WithinRel(exact, 0.01)); // banks in steps of a cell
    CHECK(dug.earthworks[0].fill == 0);
  }
}
