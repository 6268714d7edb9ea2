#include "catch.hpp"

#include <lowspot/terrain/yard_grid.hpp>

#include <lowspot/site/cell_size.hpp>

#include "yards.hpp"

using namespace lowspot;
using namespace lowspot::terrain;

TEST_CASE("the grid covers the outline and no more", "[yard_grid]") {
  site::Site site = plain_site(rectangle(10, 20, 10 + 72 * 0.3048, 20 + 54 * 0.3048), 0.1524);
  const Grid grid = make_grid(site, 0.1524);
  CHECK(grid.nx == 144);
  CHECK(grid.ny == 108);
  CHECK(grid.x0 == 10);
  CHECK(grid.y0 == 20);
  CHECK(make_grid(site, 0.4).nx == 55);
  CHECK(make_grid(site, 500).cells() == 1);
}

TEST_CASE("a cell is chosen from the size only where none is given", "[yard_grid]") {
  std::vector<site::Assumption> assumptions;
  site::Site site = plain_site(rectangle(0, 0, 22, 16), site::not_given);
  CHECK(choose_cell(site, site::not_given, assumptions) == 0.2); // 0.15 m divides neither side
  REQUIRE(assumptions.size() == 1);
  CHECK(assumptions[0].tag == "default");
  site.outline = rectangle(0, 0, 60, 60); // as the reader of site files chooses
  CHECK(choose_cell(site, site::not_given, assumptions) == 0.3);
  CHECK(assumptions.back().value == site::default_cell(bounds(site.outline), "m"));
  CHECK(choose_cell(site, 0.3, assumptions) == 0.3);
  site.cell = 0.2;
  CHECK(choose_cell(site, site::not_given, assumptions) == 0.2);
  CHECK(assumptions.size() == 2);
}

TEST_CASE("cells that cannot be are refused", "[yard_grid]") {
  const site::Site site = plain_site(rectangle(0, 0, 100, 100), 1);
  for (double cell : {0.0, -1.0, std::nan(""), 1e-6})
    CHECK_THAT(problem_of([&] { make_grid(site, cell); }), ContainsSubstring("site.cell"));
  CHECK_THAT(problem_of([&] { make_grid(site, 1e-3); }), ContainsSubstring("GB"));
}

TEST_CASE("a centre is in or out as the polygon test has it", "[yard_grid]") {
  const Grid grid{40, 30, 0.3, 5, 5};
  const Polygon star = {{5.5, 6}, {16, 5.2}, {9, 8}, {15, 13}, {8, 10}, {6, 13.7}};
  const Mask inside = centres_inside(grid, star);
  int wrong = 0;
  for (int j = 0; j < grid.ny; ++j)
    for (int i = 0; i < grid.nx; ++i)
      wrong += (inside[grid.index(i, j)] != 0) != contains(star, {grid.x(i), grid.y(j)});
  CHECK(wrong == 0);
}

TEST_CASE("a building counts beyond the outline too", "[yard_grid]") {
  site::Site site = plain_site({{0, 0}, {4, 0}, {4, 4}, {2, 4}, {2, 2}, {0, 2}}, 1);
  site.buildings.push_back({"shed", rectangle(0, 2, 1, 4), {}});
  const Grid grid = make_grid(site, 1);
  const auto kinds = cell_kinds(grid, site);
  CHECK(kinds[grid.index(0, 0)] == CellKind::ground);
  CHECK(kinds[grid.index(0, 3)] == CellKind::building);
  CHECK(kinds[grid.index(1, 3)] == CellKind::outside);
}

// A slab of 10 ft from 3 ft on, in cells of 2 ft: its sides run through centres of cells.
TEST_CASE("a side through the centres of cells parts them alike wherever the yard lies", "[yard_grid]") {
  constexpr double foot = 0.3048;
  for (const double move : {0.0, 100.0, 1000.0, 1234.5, 98765.0, 1.5e6}) {
    const auto at = [&](double feet) { return (feet + move) * foot; };
    const site::Site site = plain_site(rectangle(at(0), at(0), at(36), at(36)), 2 * foot);
    const Grid grid = make_grid(site, 2 * foot);
    const Mask slab = centres_inside(grid, rectangle(at(3), at(3), at(13), at(13)));
    const Mask beside = centres_inside(grid, rectangle(at(13), at(3), at(23), at(13)));
    CAPTURE(move);
    for (int j = 0; j < grid.ny; ++j)
      for (int i = 0; i < grid.nx; ++i) {
        const bool rows = j >= 1 && j < 6;
        CHECK(slab[grid.index(i, j)] == (rows && i >= 1 && i < 6 ? 1 : 0));
        CHECK(beside[grid.index(i, j)] == (rows && i >= 6 && i < 11 ? 1 : 0));
      }
  }
}
