#include "catch.hpp"

#include <cmath>
#include <random>
#include <set>

#include <lowspot/terrain/constrain.hpp>

using namespace lowspot;
using namespace lowspot::terrain;

namespace {
using Edge = std::array<int, 2>;

double turn(const Point3& a, const Point3& b, const Point3& c) {
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}
// Sides of all triangles, each once.
std::set<std::pair<int, int>> sides(const Tin& tin) {
  std::set<std::pair<int, int>> all;
  for (const Triangle& t : tin.triangles)
    for (int k = 0; k < 3; ++k) all.insert(std::minmax(t.corner[k], t.corner[(k + 1) % 3]));
  return all;
}
double area_of(const Tin& tin) {
  double sum = 0;
  for (const Triangle& t : tin.triangles) {
    const double twice = turn(tin.points[t.corner[0]], tin.points[t.corner[1]], tin.points[t.corner[2]]);
    REQUIRE(twice > 0);
    sum += twice / 2;
  }
  return sum;
}
// Sides that are not fixed and whose far point lies inside the circle of the near triangle.
int not_delaunay(const Tin& tin) {
  std::set<std::pair<int, int>> fixed;
  for (const Edge& e : tin.fixed) fixed.insert(std::minmax(e[0], e[1]));
  int count = 0;
  for (const Triangle& t : tin.triangles)
    for (int k = 0; k < 3; ++k) {
      const int u = t.beside[k];
      const int p = t.corner[(k + 1) % 3], q = t.corner[(k + 2) % 3];
      if (u < 0 || fixed.count(std::minmax(p, q))) continue;
      int far = -1;
      for (int c : tin.triangles[u].corner)
        if (c != p && c != q) far = c;
      const Point3 &a = tin.points[t.corner[0]], &b = tin.points[t.corner[1]], &c = tin.points[t.corner[2]];
      const double bx = b.x - a.x, by = b.y - a.y, cx = c.x - a.x, cy = c.y - a.y,
                   d = 2 * (bx * cy - by * cx);
      const double ux = (cy * (bx * bx + by * by) - by * (cx * cx + cy * cy)) / d;
      const double uy = (bx * (cx * cx + cy * cy) - cx * (bx * bx + by * by)) / d;
      const Point3& f = tin.points[far];
      if (std::hypot(f.x - a.x - ux, f.y - a.y - uy) < std::hypot(ux, uy) * (1 - 1e-4)) ++count;
    }
  return count;
}
void check_links(const Tin& tin) {
  for (std::size_t t = 0; t < tin.triangles.size(); ++t)
    for (int k = 0; k < 3; ++k) {
      const int u = tin.triangles[t].beside[k];
      if (u < 0) continue;
      const int p = tin.triangles[t].corner[(k + 1) % 3], q = tin.triangles[t].corner[(k + 2) % 3];
      bool back = false;
      for (int m = 0; m < 3; ++m)
        back =
            back || (tin.triangles[u].beside[m] == static_cast<int>(t) &&
                     tin.triangles[u].corner[(m + 1) % 3] == q && tin.triangles[u].corner[(m + 2) % 3] == p);
      CHECK(back);
    }
}
std::vector<Point3> scattered(int count, unsigned seed) {
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> place(0, 30);
  std::vector<Point3> points;
  for (int k = 0; k < count; ++k) points.push_back({place(random), place(random), place(random) / 30});
  return points;
}
bool has_side(const Tin& tin, const std::set<std::pair<int, int>>& all, const Point3& a, const Point3& b) {
  int first = -1, second = -1;
  for (std::size_t k = 0; k < tin.points.size(); ++k) {
    if (tin.points[k].x == a.x && tin.points[k].y == a.y) first = static_cast<int>(k);
    if (tin.points[k].x == b.x && tin.points[k].y == b.y) second = static_cast<int>(k);
  }
  return all.count(std::minmax(first, second)) > 0;
}
} // namespace

TEST_CASE("every line becomes sides, the hull stays filled, the rest stays Delaunay", "[constrain]") {
  const unsigned seed = GENERATE(1u, 2u, 3u, 4u, 5u);
  std::vector<Point3> points = scattered(250, seed);
  std::vector<Edge> edges;
  // Lines right through the cloud that do not cross: y = 5, 11, 17, 23 with a kink each.
  for (double y : {5.0, 11.0, 17.0, 23.0}) {
    const int here = static_cast<int>(points.size());
    points.push_back({0.5, y, 1});
    points.push_back({14.2, y + 1.3, 1});
    points.push_back({29.5, y - 0.4, 1});
    edges.push_back({here, here + 1});
    edges.push_back({here + 2, here + 1});
  }
  const Tin free = triangulate(points);
  const Tin tin = triangulate(points, edges);
  CHECK(tin.missed == 0);
  CHECK(tin.fixed.size() == edges.size());
  CHECK(tin.triangles.size() == free.triangles.size());
  CHECK_THAT(area_of(tin), WithinAbs(area_of(free), 1e-9));
  const auto all = sides(tin);
  int before = 0;
  for (const Edge& e : edges) {
    CHECK(has_side(tin, all, points[e[0]], points[e[1]]));
    before += has_side(free, sides(free), points[e[0]], points[e[1]]);
  }
  CHECK(before < static_cast<int>(edges.size())); // it was not so by chance
  CHECK(not_delaunay(tin) == 0);
  check_links(tin);
}

TEST_CASE("a line over points is followed from point to point, on a regular net too", "[constrain]") {
  std::vector<Point3> points;
  for (int j = 0; j < 9; ++j)
    for (int i = 0; i < 9; ++i) points.push_back({i * 2.0, j * 2.0, 0});
  const Tin tin = triangulate(points, {{0, 80}, {8, 72}, {4, 76}});
  CHECK(tin.missed == 0);
  CHECK(tin.fixed.size() == 3 * 8);
  const auto all = sides(tin);
  for (int k = 0; k < 8; ++k) {
    CHECK(has_side(tin, all, {2.0 * k, 2.0 * k, 0}, {2.0 * k + 2, 2.0 * k + 2, 0}));
    CHECK(has_side(tin, all, {16 - 2.0 * k, 2.0 * k, 0}, {14 - 2.0 * k, 2.0 * k + 2, 0}));
  }
  CHECK_THAT(area_of(tin), WithinAbs(256, 1e-9));
  check_links(tin);
}

TEST_CASE("a line that crosses another is left out and counted", "[constrain]") {
  const std::vector<Point3> points = {{0, 0, 0}, {10, 0, 0}, {10, 10, 0}, {0, 10, 0}, {5, 1, 0}, {4, 8, 0}};
  const Tin tin = triangulate(points, {{0, 2}, {1, 3}, {0, 0}});
  CHECK(tin.missed == 1);
  CHECK(has_side(tin, sides(tin), points[0], points[2]));
  CHECK_THAT(area_of(tin), WithinAbs(100, 1e-9));
}

TEST_CASE("a curb is one sharp step along its whole length", "[constrain]") {
  // Two lines 1 cm apart carry a 15 cm step across a yard whose shots elsewhere stand anywhere.
  std::vector<Point3> points = scattered(150, 9);
  for (Point3& p : points) p.z = p.y < 15 ? 1.0 : 1.15;
  std::erase_if(points, [](const Point3& p) { return std::abs(p.y - 15) < 0.1; });
  const int here = static_cast<int>(points.size());
  for (double y : {14.99, 15.01})
    for (double x : {0.0, 30.0}) points.push_back({x, y, y < 15 ? 1.0 : 1.15});
  for (double y : {0.0, 30.0})
    for (double x : {0.0, 30.0}) points.push_back({x, y, y < 15 ? 1.0 : 1.15});
  const Tin tin = triangulate(points, {{here, here + 1}, {here + 2, here + 3}});
  int hint = 0;
  for (double x = 0.5; x < 30; x += 0.37)
    for (double y : {14.5, 14.98, 15.02, 15.5})
      CHECK_THAT(interpolate(tin, {x, y}, hint).z, WithinAbs(y < 15 ? 1.0 : 1.15, 1e-9));
}
