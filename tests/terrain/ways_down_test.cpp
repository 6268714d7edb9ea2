#include <lowspot/terrain/ways_down.hpp>

#include <cmath>

#include <lowspot/relief/depression_tree.hpp>

#include "catch.hpp"

using namespace lowspot;
using namespace lowspot::terrain;

namespace {

using Height = std::function<double(const Point&)>;

// Elevations of the middles of the cells, and what holds no water.
struct Cells {
  explicit Cells(const Height& height_, double cell = 0.25, int side = 80)
      : height(height_), grid{side, side, cell, 0, 0}, active(grid.cells(), 1) {
    for (std::size_t c = 0; c < grid.cells(); ++c)
      elevation.push_back(height({grid.x(grid.column(c)), grid.y(grid.row(c))}));
  }
  OpenedWays open() { return open_ways_down(height, grid, active, elevation); }
  // What hollows hold over open edges all round [m3].
  double held() const {
    std::vector<relief::OpenFace> faces;
    for (std::size_t c = 0; c < grid.cells(); ++c) {
      const int i = grid.column(c), j = grid.row(c);
      if (i == 0) faces.push_back({static_cast<int>(c), 0});
      if (i + 1 == grid.nx) faces.push_back({static_cast<int>(c), 1});
      if (j == 0) faces.push_back({static_cast<int>(c), 2});
      if (j + 1 == grid.ny) faces.push_back({static_cast<int>(c), 3});
    }
    const relief::DepressionTree tree =
        relief::build_depression_tree({grid, active, elevation, {}, {}, faces});
    double sum = 0;
    for (const int d : tree.finished) sum += tree.depressions[d].volume;
    return sum;
  }
  Height height;
  Grid grid;
  Mask active;
  Field elevation;
};

// A swale that falls by 1 % in a direction, with sides of this slope.
Height swale(double degrees, double sides, double offset = 0) {
  const double angle = degrees * std::acos(-1) / 180, c = std::cos(angle), s = std::sin(angle);
  return [=](const Point& at) {
    const double x = at.x - 10, y = at.y - 10 - offset;
    return 10 - 0.01 * (c * x + s * y) + sides * std::abs(c * y - s * x);
  };
}

} // namespace

TEST_CASE("a swale of any direction is no row of pits", "[ways_down]") {
  for (const double degrees : {17.0, 30.0, 45.0, 60.0, 135.0, 200.0})
    for (const double sides : {0.05, 0.15, 0.3})
      for (const double offset : {0.0, 0.07, 0.125}) {
        Cells cells(swale(degrees, sides, offset));
        const Field before = cells.elevation;
        CAPTURE(degrees, sides, offset, cells.held());
        const OpenedWays opened = cells.open();
        CHECK(cells.held() < 1e-4); // a tenth of a litre in 400 m2
        CHECK(opened.deepest < sides * 0.25);
        for (std::size_t c = 0; c < before.size(); ++c) CHECK(cells.elevation[c] <= before[c]);
      }
  CHECK(Cells(swale(45, 0.15)).held() > 0.02); // what it is for
}

TEST_CASE("a swale along the cells, a slope and a hollow stay as they are", "[ways_down]") {
  for (const Height& height :
       {swale(0, 0.15), swale(90, 0.15, 0.1),
        Height([](const Point& at) { return 0.02 * at.x + 0.01 * at.y; }),
        Height([](const Point& at) { return 0.03 * std::hypot(at.x - 10.1, at.y - 9.9); })}) {
    Cells cells(height);
    const Field before = cells.elevation;
    CHECK(cells.open().lowered == 0);
    CHECK(cells.elevation == before);
  }
}

TEST_CASE("a narrow bank aslant to the cells still holds back what lies behind it", "[ways_down]") {
  // Ground falling to the north-east with a bank across it, 0.2 m high and less wide than a cell.
  const Height bank = [](const Point& at) {
    const double along = (at.x + at.y) / std::sqrt(2.0), across = (at.x - at.y) / std::sqrt(2.0);
    const double low = 0.1 * std::abs(across); // a valley, so that water gathers before the bank
    return 10 - 0.02 * along + low + std::max(0.0, 0.2 - 2 * std::abs(along - 15));
  };
  Cells cells(bank, 0.2, 100);
  const double held = cells.held();
  REQUIRE(held > 0.05);
  cells.open();
  // The bank holds 0.2 m less what its cells miss of the crest: as much as before, but for the false pits
  // above.
  CHECK(cells.held() > 0.5 * held);
}

TEST_CASE("a hollow in a swale stays, the way to it opens", "[ways_down]") {
  const Height valley = swale(45, 0.15);
  const Height height = [=](const Point& at) {
    return valley(at) - std::max(0.0, 0.15 - 0.1 * std::hypot(at.x - 11, at.y - 11));
  };
  Cells cells(height);
  const double held = cells.held();
  cells.open();
  CHECK(cells.held() < held);
  // A cone of 0.15 m in a valley: its lowest ground lies as deep as before.
  const std::size_t middle = cells.grid.index(43, 43);
  CHECK_THAT(cells.elevation[middle], WithinAbs(height({cells.grid.x(43), cells.grid.y(43)}), 1e-12));
  CHECK(cells.held() > 0.01);
}
