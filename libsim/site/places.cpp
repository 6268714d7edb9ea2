#include <lowspot/site/places.hpp>

#include <cmath>

#include <boost/geometry.hpp>
#include <boost/geometry/geometries/multi_polygon.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/polygon.hpp>

#include <lowspot/base/text.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::site {
namespace {
namespace bg = boost::geometry;
using Spot = bg::model::d2::point_xy<double>;
using Shape = bg::model::polygon<Spot>;

// Relative to an origin nearby: large coordinates would cost the intersection its digits.
Shape shape_of(const Polygon& polygon, const Point& origin) {
  Shape shape;
  for (const Point& p : polygon) bg::append(shape.outer(), Spot(p.x - origin.x, p.y - origin.y));
  bg::correct(shape);
  return shape;
}

const char* const outside_mend =
    "Check the coordinates (x east, y north, in the site's units), or enlarge [site] outline.";
} // namespace

bool inside_or_on(const Polygon& outline, const Point& place) {
  if (contains(outline, place)) return true;
  Polyline ring = outline;
  ring.push_back(ring.front());
  return distance_to(ring, place) <= on_the_limit;
}

bool stays_inside(const Polygon& outline, const Polyline& line) {
  constexpr int tries = 64;
  for (std::size_t k = 0; k < line.size(); ++k) {
    if (!inside_or_on(outline, line[k])) return false;
    if (k + 1 == line.size()) break;
    for (int step = 1; step < tries; ++step) {
      const double share = static_cast<double>(step) / tries;
      const Point between{line[k].x + share * (line[k + 1].x - line[k].x),
                          line[k].y + share * (line[k + 1].y - line[k].y)};
      if (!inside_or_on(outline, between)) return false;
    }
  }
  return true;
}

double shared_area(const Polygon& a, const Polygon& b) {
  const Point origin = a.at(0);
  bg::model::multi_polygon<Shape> shared;
  bg::intersection(shape_of(a, origin), shape_of(b, origin), shared);
  return bg::area(shared);
}

bool in_one_line(const std::vector<Point3>& shots) {
  double widest = 0, longest = 0;
  for (const Point3& a : shots)
    for (const Point3& b : shots) {
      const Point o = {shots.front().x, shots.front().y};
      widest = std::max(widest, std::abs((a.x - o.x) * (b.y - o.y) - (a.y - o.y) * (b.x - o.x)));
      longest = std::max(longest, std::hypot(a.x - b.x, a.y - b.y));
    }
  return widest <= 1e-6 * longest * longest;
}

void require_inside(const TableReader& table, const std::string& key, const Point& place) {
  const Site& site = table.context().site;
  if (!inside_or_on(site.outline, place))
    table.fail(key, written(place, site) + ", outside the yard", "a place inside [site] outline",
               outside_mend);
}

void require_inside(const TableReader& table, const std::string& key, const Polyline& line) {
  for (const Point& place : line) require_inside(table, key, place);
  if (!stays_inside(table.context().site.outline, line))
    table.fail(key, "a line that leaves the yard between its points", "a line inside [site] outline",
               outside_mend);
}

void require_shared(const TableReader& table, const Polygon& shape, const std::string& consequence) {
  const Site& site = table.context().site;
  const std::string key = table.has("rectangle") ? "rectangle" : "outline";
  const double whole = area(shape), shared = shared_area(shape, site.outline);
  if (shared <= 1e-9 * whole)
    table.fail(key, "a shape wholly outside the yard", "a shape inside [site] outline", outside_mend);
  if (shared < (1 - 1e-6) * whole)
    table.warn(key,
               rounded(100 * (1 - shared / whole), 2) + " % of it lies outside the yard; " + consequence);
}

} // namespace lowspot::site
