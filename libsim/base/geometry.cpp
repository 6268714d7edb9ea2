#include <lowspot/base/geometry.hpp>

#include <algorithm>
#include <cmath>

#define BOOST_ALLOW_DEPRECATED_HEADERS // Boost 1.74 includes one of its own deprecated headers
#include <boost/geometry.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/polygon.hpp>

namespace lowspot {

double distance(const Point& a, const Point& b) {
  return std::hypot(b.x - a.x, b.y - a.y);
}

double length(const Polyline& line) {
  double sum = 0;
  for (std::size_t k = 1; k < line.size(); ++k) sum += distance(line[k - 1], line[k]);
  return sum;
}

double signed_area(const Polygon& polygon) {
  double twice = 0;
  if (polygon.empty()) return 0;
  const Point origin = polygon.front(); // keeps digits when coordinates are large
  for (std::size_t k = 0; k < polygon.size(); ++k) {
    const Point& a = polygon[k];
    const Point& b = polygon[(k + 1) % polygon.size()];
    twice += (a.x - origin.x) * (b.y - origin.y) - (b.x - origin.x) * (a.y - origin.y);
  }
  return twice / 2;
}

double area(const Polygon& polygon) {
  return std::abs(signed_area(polygon));
}

bool contains(const Polygon& polygon, const Point& point) {
  bool inside = false;
  for (std::size_t k = 0, last = polygon.size() - 1; k < polygon.size(); last = k++) {
    const Point& a = polygon[k];
    const Point& b = polygon[last];
    if ((a.y > point.y) != (b.y > point.y) && point.x < (b.x - a.x) * (point.y - a.y) / (b.y - a.y) + a.x)
      inside = !inside;
  }
  return inside;
}

Box bounds(const std::vector<Point>& points) {
  Box box{points.at(0), points.at(0)};
  for (const Point& p : points) {
    box.low.x = std::min(box.low.x, p.x);
    box.low.y = std::min(box.low.y, p.y);
    box.high.x = std::max(box.high.x, p.x);
    box.high.y = std::max(box.high.y, p.y);
  }
  return box;
}

Point centroid(const Polygon& polygon) {
  double sum_x = 0, sum_y = 0, twice = 0;
  const Point origin = polygon.at(0);
  for (std::size_t k = 0; k < polygon.size(); ++k) {
    const Point a{polygon[k].x - origin.x, polygon[k].y - origin.y};
    const Point& next = polygon[(k + 1) % polygon.size()];
    const Point b{next.x - origin.x, next.y - origin.y};
    const double cross = a.x * b.y - b.x * a.y;
    sum_x += (a.x + b.x) * cross;
    sum_y += (a.y + b.y) * cross;
    twice += cross;
  }
  if (twice == 0) return origin;
  return {origin.x + sum_x / (3 * twice), origin.y + sum_y / (3 * twice)};
}

Point point_along(const Polyline& line, double distance_along) {
  double left = std::max(distance_along, 0.0);
  for (std::size_t k = 1; k < line.size(); ++k) {
    const double piece = distance(line[k - 1], line[k]);
    if (left <= piece && piece > 0) {
      const double share = left / piece;
      return {line[k - 1].x + share * (line[k].x - line[k - 1].x),
              line[k - 1].y + share * (line[k].y - line[k - 1].y)};
    }
    left -= piece;
  }
  return line.back();
}

double distance_to(const Polyline& line, const Point& point, double* along) {
  double best = line.empty() ? 0 : distance(line.front(), point);
  double where = 0, passed = 0;
  for (std::size_t k = 1; k < line.size(); ++k) {
    const Point& a = line[k - 1];
    const Point& b = line[k];
    const double piece = distance(a, b);
    if (piece == 0) continue;
    double share = ((point.x - a.x) * (b.x - a.x) + (point.y - a.y) * (b.y - a.y)) / (piece * piece);
    share = std::clamp(share, 0.0, 1.0);
    const Point foot{a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)};
    const double gap = distance(foot, point);
    if (gap < best) {
      best = gap;
      where = passed + share * piece;
    }
    passed += piece;
  }
  if (along) *along = where;
  return best;
}

namespace {
namespace bg = boost::geometry;
using BoostPoint = bg::model::d2::point_xy<double>;
using BoostPolygon = bg::model::polygon<BoostPoint>;

BoostPolygon to_boost(const Polygon& polygon, const Point& origin) {
  BoostPolygon result;
  for (const Point& p : polygon) bg::append(result.outer(), BoostPoint(p.x - origin.x, p.y - origin.y));
  if (!polygon.empty())
    bg::append(result.outer(), BoostPoint(polygon[0].x - origin.x, polygon[0].y - origin.y));
  bg::correct(result);
  return result;
}
} // namespace

std::string why_not_simple(const Polygon& polygon) {
  if (polygon.size() < 3) return "it has fewer than three corners";
  for (const Point& p : polygon)
    if (!std::isfinite(p.x) || !std::isfinite(p.y)) return "a corner is not a finite number";
  if (area(polygon) < 1e-9) return "it encloses no area";
  bg::validity_failure_type failure = bg::no_failure;
  if (bg::is_valid(to_boost(polygon, polygon[0]), failure)) return "";
  switch (failure) {
  case bg::failure_self_intersections:
    return "its sides cross each other";
  case bg::failure_spikes:
    return "it doubles back on itself (a spike)";
  case bg::failure_duplicate_points:
    return ""; // a repeated corner does no harm
  default:
    return "it is not a simple outline";
  }
}

Polygon cut_to(const Polygon& polygon, const Box& box) {
  // Sutherland and Hodgman (1974): cut by the four sides in turn. Exact in area for any simple polygon and a
  // rectangle, since pieces that touch along a side enclose nothing.
  Polygon cut = polygon, next;
  for (int side = 0; side < 4 && !cut.empty(); ++side) {
    const bool along_x = side < 2;
    const bool keep_above = side % 2 == 0;
    const double limit = side == 0 ? box.low.x : side == 1 ? box.high.x : side == 2 ? box.low.y : box.high.y;
    auto inward = [&](const Point& p) { return ((along_x ? p.x : p.y) - limit) * (keep_above ? 1 : -1); };
    next.clear();
    for (std::size_t k = 0; k < cut.size(); ++k) {
      const Point& a = cut[k];
      const Point& b = cut[(k + 1) % cut.size()];
      const double da = inward(a), db = inward(b);
      if (da >= 0) next.push_back(a);
      if ((da > 0 && db < 0) || (da < 0 && db > 0)) {
        const double share = da / (da - db);
        next.push_back({a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)});
      }
    }
    cut.swap(next);
  }
  return cut;
}

double overlap_area(const Polygon& polygon, const Box& box) {
  const Polygon cut = cut_to(polygon, box);
  return cut.size() < 3 ? 0 : area(cut);
}

} // namespace lowspot
