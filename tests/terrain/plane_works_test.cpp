#include <cmath>
#include <functional>

#include <lowspot/terrain/plane_works.hpp>
#include <lowspot/terrain/reshape.hpp>

#include "catch.hpp"
#include "yards.hpp"

using namespace lowspot;
using namespace lowspot::terrain;

namespace {

struct Bare {
  site::Site site;
  Ground ground;
};

Bare bare_yard(double width, double cell, const std::function<double(double, double)>& z) {
  const int n = static_cast<int>(std::lround(width / cell));
  return {plain_site(rectangle(0, 0, width, width), cell),
          bare_ground(n, n, cell, [&](int i, int j) { return z((i + 0.5) * cell, (j + 0.5) * cell); })};
}

site::Regrade plane_work(const Polygon& outline, const std::function<double(double, double)>& z) {
  site::Regrade work;
  work.name = "lawn";
  work.kind = "plane";
  work.outline = outline;
  for (const Point& corner : {Point{0, 0}, Point{10, 0}, Point{0, 10}})
    work.surface.push_back({corner.x, corner.y, z(corner.x, corner.y)});
  return work;
}

Polygon turned_rectangle(double width, double height, double degrees, Point middle) {
  const double c = std::cos(degrees * 0.017453292519943295), s = std::sin(degrees * 0.017453292519943295);
  Polygon shape;
  for (const Point& p : rectangle(-width / 2, -height / 2, width / 2, height / 2))
    shape.push_back({middle.x + c * p.x - s * p.y, middle.y + s * p.x + c * p.y});
  return shape;
}

double moved(const Ground& after, const Ground& before) {
  double sum = 0;
  for (std::size_t c = 0; c < after.elevation.size(); ++c) sum += after.elevation[c] - before.elevation[c];
  return sum * after.grid.cell_area();
}

} // namespace

TEST_CASE("a plane inside a turned outline moves just the earth between it and the ground", "[planes]") {
  const auto old = [](double x, double y) { return 1 + 0.03 * x - 0.01 * y; };
  const auto planned = [](double x, double y) { return 0.8 + 0.01 * x + 0.02 * y; };
  const Point middle{5.13, 4.87};
  const Polygon outline = turned_rectangle(5, 3, 30, middle);
  const double exact = 5 * 3 * (planned(middle.x, middle.y) - old(middle.x, middle.y)); // cut all over
  for (const double cell : {1.0, 0.5, 0.25}) {
    const Bare yard = bare_yard(10, cell, old);
    site::Design design;
    design.regrades = {plane_work(outline, planned)};
    const Ground graded = reshape(yard.site, yard.ground, design);
    CHECK_THAT(moved(graded, yard.ground), WithinRel(exact, 1e-9));
    CHECK_THAT(graded.earthworks[0].cut, WithinRel(-exact, 1e-9));
    CHECK(graded.earthworks[0].fill == 0);
    const std::size_t inner = cell_at(graded.grid, 5.1, 4.9);
    const Grid& grid = graded.grid;
    CHECK_THAT(graded.elevation[inner],
               WithinAbs(planned(grid.x(grid.column(inner)), grid.y(grid.row(inner))), 1e-12));
  }
}

TEST_CASE("planes that meet along a line leave nothing of the ground between them", "[planes]") {
  // A valley along y = 0.6 x, through the cells of a lawn 0.3 m above it.
  const Bare yard = bare_yard(10, 0.5, [](double, double) { return 2.0; });
  const auto bed = [](double x, double) { return 1.7 - 0.01 * x; };
  site::Design design;
  design.regrades = {plane_work({{0, 0}, {10, 6}, {10, 0}}, bed),
                     plane_work({{0, 0}, {10, 6}, {10, 10}, {0, 10}}, bed)};
  const Ground graded = reshape(yard.site, yard.ground, design);
  const Grid& grid = graded.grid;
  for (std::size_t c = 0; c < grid.cells(); ++c)
    REQUIRE_THAT(graded.elevation[c], WithinAbs(bed(grid.x(grid.column(c)), 0), 1e-9));
  // What each moved: its own part.
  REQUIRE(graded.earthworks.size() == 2);
  CHECK_THAT(graded.earthworks[0].cut, WithinRel(30 * (0.3 + 0.01 * 20 / 3), 1e-9));
  CHECK_THAT(graded.earthworks[0].cut + graded.earthworks[1].cut, WithinRel(100 * 0.35, 1e-9));
}

TEST_CASE("a plane laid up to a slab, a house or the limit leaves no strip of old ground along it",
          "[planes]") {
  Bare yard = bare_yard(10, 0.5, [](double, double) { return 1.0; });
  yard.site.areas = {patio(rectangle(4.2, 0, 7, 10))}; // cuts cells; their centres at 4.25 lie on it
  yard.site.buildings.push_back({"shed", rectangle(0, 8.3, 4.2, 10), {}});
  for (std::size_t c = 0; c < yard.ground.grid.cells(); ++c)
    if (yard.ground.grid.y(yard.ground.grid.row(c)) > 8.3 &&
        yard.ground.grid.x(yard.ground.grid.column(c)) < 4.2)
      yard.ground.active[c] = 0;
  site::Design design;
  design.regrades = {plane_work(rectangle(0, 2, 4.2, 8.3), [](double, double) { return 0.8; })};
  const Ground graded = reshape(yard.site, yard.ground, design);
  const auto at = [&](double x, double y) { return graded.elevation[cell_at(graded.grid, x, y)]; };
  CHECK_THAT(at(3.75, 5.25), WithinAbs(0.8, 1e-12));
  CHECK_THAT(at(3.75, 8.25), WithinAbs(0.8, 1e-12)); // 0.3 m of it open
  CHECK_THAT(at(0.25, 5.25), WithinAbs(0.8, 1e-12));
  CHECK(at(4.25, 5.25) == 1.0); // the slab
  CHECK(graded.warnings.empty());
}

TEST_CASE("levels on one line are refused for a plane", "[planes]") {
  const Bare yard = bare_yard(10, 0.5, [](double, double) { return 1.0; });
  site::Design design;
  design.regrades = {plane_work(rectangle(1, 1, 3, 3), [](double, double) { return 1.0; })};
  design.regrades[0].surface = {{0, 0, 1}, {1, 1, 1}, {2, 2, 1}};
  CHECK_THROWS_AS(reshape(yard.site, yard.ground, design), InputError);
}
