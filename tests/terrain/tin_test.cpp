#include "catch.hpp"
#include "figures.hpp"

#include <cmath>
#include <limits>
#include <random>
#include <stdexcept>

#include <lowspot/terrain/tin.hpp>

using namespace lowspot;
using namespace lowspot::terrain;

namespace {
std::vector<Point3> scattered(int count, double origin, unsigned seed) {
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> place(0, 30);
  std::vector<Point3> points;
  for (int k = 0; k < count; ++k) points.push_back({origin + place(random), origin + place(random), 0});
  return points;
}
double area_of(const Tin& tin) {
  double sum = 0;
  for (const Triangle& t : tin.triangles) {
    const Point3 &a = tin.points[t.corner[0]], &b = tin.points[t.corner[1]], &c = tin.points[t.corner[2]];
    const double twice = (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
    CHECK(twice > 0);
    sum += twice / 2;
  }
  return sum;
}
// How far the nearest other point stands inside a triangle's circle, as a share of its radius.
double worst_intrusion(const Tin& tin) {
  double worst = 0;
  for (const Triangle& t : tin.triangles) {
    const Point3 &a = tin.points[t.corner[0]], &b = tin.points[t.corner[1]], &c = tin.points[t.corner[2]];
    const double bx = b.x - a.x, by = b.y - a.y, cx = c.x - a.x, cy = c.y - a.y;
    const double d = 2 * (bx * cy - by * cx);
    const double ux = (cy * (bx * bx + by * by) - by * (cx * cx + cy * cy)) / d;
    const double uy = (bx * (cx * cx + cy * cy) - cx * (bx * bx + by * by)) / d;
    const double radius = std::hypot(ux, uy);
    for (const Point3& p : tin.points)
      worst = std::max(worst, 1 - std::hypot(p.x - a.x - ux, p.y - a.y - uy) / radius);
  }
  return worst;
}
} // namespace

TEST_CASE("a plane comes back exactly at every cell inside the hull", "[tin]") {
  const double origin = GENERATE(0.0, 447000.0);
  std::vector<Point3> points = scattered(200, origin, 5);
  for (double x : {0.0, 30.0})
    for (double y : {0.0, 30.0}) points.push_back({origin + x, origin + y, 0});
  auto plane = [&](double x, double y) { return 100 + 0.03 * (x - origin) - 0.07 * (y - origin); };
  for (Point3& p : points) p.z = plane(p.x, p.y);
  const Tin tin = triangulate(points);
  const Grid grid{75, 75, 0.4, origin, origin};
  Field gap;
  const Field z = interpolate(tin, grid, &gap);
  double worst = 0;
  for (std::size_t c = 0; c < z.size(); ++c) {
    CHECK(gap[c] == 0);
    worst = std::max(worst, std::abs(z[c] - plane(grid.x(grid.column(c)), grid.y(grid.row(c)))));
  }
  CHECK(worst < 1e-10); // coordinates of 447 km carry 6e-11 m
  figures::record("terrain", "triangulated plane, origin at 0 and 447 km", "elevation off, m", worst,
                  figures::at_most(1e-10));
}

TEST_CASE("a plane comes back on the very sides of triangles, where cells and shots share a lattice",
          "[tin]") {
  // A cell's middle on the diagonal of four shots lies, for rounding, right of the side of both triangles.
  std::mt19937 random(263);
  const auto any = [&](int most) { return static_cast<int>(random() % static_cast<unsigned>(most)); };
  constexpr double foot = 0.3048, cells_ft[] = {0.5, 0.75, 1, 1.5, 2};
  double worst = 0, widest_gap = 0;
  for (int yard = 0; yard < 1500; ++yard) {
    const double spacing = (2 + any(14)) * foot, cell = cells_ft[any(5)] * foot;
    const int nx = 2 + any(8), ny = 2 + any(8);
    const double x0 = any(10000) * foot / 10, y0 = any(10000) * foot / 10;
    const auto plane = [&](double x, double y) { return 30 + 0.04 * (x - x0) - 0.03 * (y - y0); };
    std::vector<Point3> shots;
    for (int i = 0; i < nx; ++i)
      for (int j = 0; j < ny; ++j) {
        const double x = x0 + i * spacing, y = y0 + j * spacing;
        shots.push_back({x, y, plane(x, y)});
      }
    const Grid grid{static_cast<int>((nx - 1) * spacing / cell), static_cast<int>((ny - 1) * spacing / cell),
                    cell, x0, y0};
    Field gap;
    const Field z = interpolate(triangulate(shots), grid, &gap);
    for (std::size_t c = 0; c < z.size(); ++c) {
      widest_gap = std::max(widest_gap, gap[c]);
      worst = std::max(worst, std::abs(z[c] - plane(grid.x(grid.column(c)), grid.y(grid.row(c)))));
    }
  }
  CHECK(widest_gap == 0);
  CHECK(worst < 1e-10);
}

TEST_CASE("a turned row of shots on the hull holds what was shot there and between them", "[tin]") {
  // Moved to whole numbers the row is no straight line any more: triangles without width lie along it.
  const double origin = GENERATE(0.0, 652140.0);
  double worst = 0;
  for (int turn = 1; turn < 60; ++turn) {
    const double angle = 0.1 * turn, along = std::cos(angle), up = std::sin(angle);
    const auto place = [&](double u, double v) {
      return Point{origin + u * along - v * up, origin + u * up + v * along};
    };
    const auto height = [&](const Point& at) { return 30 + 0.1 * (at.x - origin) - 0.07 * (at.y - origin); };
    std::vector<Point3> shots;
    for (int i = 0; i < 5; ++i)
      for (int j = 0; j < 4; ++j) {
        const Point at = place(0.7 * i, 0.7 * j);
        shots.push_back({at.x, at.y, height(at)});
      }
    const Tin tin = triangulate(shots);
    area_of(tin); // no triangle is turned over
    int hint = 0;
    for (double u = 0; u < 2.81; u += 0.175)
      for (double v = 0; v < 2.11; v += 0.35) {
        const Point at = place(u, v);
        const TinValue value = interpolate(tin, at, hint);
        CHECK(value.gap == 0);
        worst = std::max(worst, std::abs(value.z - height(at)));
      }
  }
  CHECK(worst < 1e-8); // m: coordinates at 652 km are rounded by 1e-10 m
}

TEST_CASE("the triangulation is Delaunay and fills the hull, also of a regular grid of shots", "[tin]") {
  std::vector<Point3> points = scattered(300, 0, 11);
  double hull = 0;
  if (GENERATE(false, true)) {
    points.clear();
    for (int j = 0; j < 12; ++j)
      for (int i = 0; i < 15; ++i) points.push_back({i * 2.0, j * 2.5, 1.0});
    hull = 28 * 27.5;
  }
  const Tin tin = triangulate(points);
  CHECK(tin.points.size() == points.size());
  CHECK(worst_intrusion(tin) < 1e-4); // places are rounded to 1e-5 m
  // Euler: triangles = 2 points - 2 - sides of the hull.
  CHECK(tin.triangles.size() == 2 * points.size() - 2 - tin.hull.size());
  double around = 0;
  for (const auto& [a, b] : tin.hull)
    around += (tin.points[a].x * tin.points[b].y - tin.points[b].x * tin.points[a].y) / 2;
  CHECK_THAT(area_of(tin), WithinAbs(around, 1e-9));
  if (hull > 0) CHECK_THAT(around, WithinAbs(hull, 1e-9));
  for (std::size_t t = 0; t < tin.triangles.size(); ++t)
    for (int k = 0; k < 3; ++k)
      if (const int other = tin.triangles[t].beside[k]; other >= 0) {
        const auto& back = tin.triangles[other].beside;
        CHECK(std::find(back.begin(), back.end(), static_cast<int>(t)) != back.end());
      }
}

TEST_CASE("outside the hull the nearest hull point holds", "[tin]") {
  const Tin tin = triangulate({{0, 0, 1}, {4, 0, 3}, {4, 4, 5}, {0, 4, 1}});
  int hint = 0;
  TinValue value = interpolate(tin, {2, -3}, hint);
  CHECK_THAT(value.z, WithinAbs(2, 1e-12));
  CHECK_THAT(value.gap, WithinAbs(3, 1e-12));
  value = interpolate(tin, {7, 8}, hint);
  CHECK_THAT(value.z, WithinAbs(5, 1e-12));
  CHECK_THAT(value.gap, WithinAbs(5, 1e-12));
}

TEST_CASE("points on one line have no triangles, doubles count once", "[tin]") {
  CHECK(triangulate({}).triangles.empty());
  CHECK(triangulate({{0, 0, 1}, {1, 1, 1}, {2, 2, 1}, {7, 7, 3}}).triangles.empty());
  const Tin tin = triangulate({{0, 0, 1}, {1, 0, 1}, {0, 1, 1}, {0, 0, 9}});
  CHECK(tin.points.size() == 3);
  CHECK(tin.triangles.size() == 1);
}

TEST_CASE("linear interpolation of a smooth ground converges with the square of the spacing", "[tin]") {
  auto bowl = [](double x, double y) { return std::sin(x / 5) * std::cos(y / 7); };
  std::vector<double> errors;
  for (int n : {8, 16, 32, 64}) {
    std::vector<Point3> points;
    for (int j = 0; j <= n; ++j)
      for (int i = 0; i <= n; ++i) {
        const double x = 30.0 * i / n, y = 30.0 * j / n;
        points.push_back({x, y, bowl(x, y)});
      }
    const Tin tin = triangulate(points);
    const Grid grid{97, 97, 30.0 / 97, 0, 0};
    const Field z = interpolate(tin, grid);
    double worst = 0;
    for (std::size_t c = 0; c < z.size(); ++c)
      worst = std::max(worst, std::abs(z[c] - bowl(grid.x(grid.column(c)), grid.y(grid.row(c)))));
    errors.push_back(worst);
  }
  for (std::size_t k = 1; k < errors.size(); ++k) {
    const double order = std::log2(errors[k - 1] / errors[k]);
    CHECK(order > 1.7);
    figures::record("terrain", "smooth ground from shots", "order in their spacing", order,
                    figures::at_least(1.7));
  }
}

TEST_CASE("places that are no numbers and lines between points that are not there are refused", "[tin]") {
  const std::vector<Point3> square = {{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {1, 1, 0}};
  CHECK_NOTHROW(triangulate(square, {{0, 3}}));
  for (const double bad : {std::nan(""), std::numeric_limits<double>::infinity()}) {
    std::vector<Point3> spoilt = square;
    spoilt[2].y = bad;
    CHECK_THROWS_AS(triangulate(spoilt), std::invalid_argument);
  }
  CHECK_THROWS_AS(triangulate(square, {{0, 4}}), std::invalid_argument);
  CHECK_THROWS_AS(triangulate(square, {{-1, 3}}), std::invalid_argument);
  CHECK(triangulate(std::vector<Point3>{}).triangles.empty());
}
