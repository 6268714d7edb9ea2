#include <lowspot/site/places.hpp>

#include <algorithm>
#include <array>
#include <cmath>

#include <lowspot/base/text.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::site {
namespace {
// Corners of a triangle, anticlockwise, and the sign it had before it was turned.
struct Triangle {
  std::array<Point, 3> corners;
  double sign = 1;
};

// Triangles from the first corner to each side. Signed, they add up to the polygon, whatever its shape.
std::vector<Triangle> fan(const Polygon& polygon, const Point& origin) {
  std::vector<Triangle> triangles;
  const auto moved = [&](const Point& p) { return Point{p.x - origin.x, p.y - origin.y}; };
  for (std::size_t k = 1; k + 1 < polygon.size(); ++k) {
    Triangle t{{moved(polygon[0]), moved(polygon[k]), moved(polygon[k + 1])}, 1};
    const double turn = signed_area({t.corners[0], t.corners[1], t.corners[2]});
    if (turn < 0) {
      std::swap(t.corners[1], t.corners[2]);
      t.sign = -1;
    }
    if (turn != 0) triangles.push_back(t);
  }
  return triangles;
}

// Sutherland and Hodgman (1974): one triangle cut by the three sides of the other.
double shared_by_triangles(const Triangle& a, const Triangle& b) {
  Polygon cut(a.corners.begin(), a.corners.end()), next;
  for (std::size_t side = 0; side < 3 && !cut.empty(); ++side) {
    const Point& from = b.corners[side];
    const Point& to = b.corners[(side + 1) % 3];
    const auto inward = [&](const Point& p) {
      return (to.x - from.x) * (p.y - from.y) - (to.y - from.y) * (p.x - from.x);
    };
    next.clear();
    for (std::size_t k = 0; k < cut.size(); ++k) {
      const Point& p = cut[k];
      const Point& q = cut[(k + 1) % cut.size()];
      const double dp = inward(p), dq = inward(q);
      if (dp >= 0) next.push_back(p);
      if ((dp > 0 && dq < 0) || (dp < 0 && dq > 0)) {
        const double share = dp / (dp - dq);
        next.push_back({p.x + share * (q.x - p.x), p.y + share * (q.y - p.y)});
      }
    }
    cut.swap(next);
  }
  return cut.size() < 3 ? 0 : area(cut);
}

Point between(const Point& from, const Point& to, double share) {
  return {from.x + share * (to.x - from.x), from.y + share * (to.y - from.y)};
}

// Shares of the way from one place to another at which it meets a side or a corner of the outline, rising,
// with 0 and 1: in between it is either inside or not.
std::vector<double> cuts_of(const Polygon& outline, const Point& from, const Point& to) {
  std::vector<double> cuts = {0, 1};
  const Point way{to.x - from.x, to.y - from.y};
  const double squared = way.x * way.x + way.y * way.y;
  for (std::size_t k = 0; k < outline.size(); ++k) {
    const Point &a = outline[k], &b = outline[(k + 1) % outline.size()];
    // How far left of the way its ends lie, times the way's length.
    const double left_a = way.x * (a.y - from.y) - way.y * (a.x - from.x);
    const double left_b = way.x * (b.y - from.y) - way.y * (b.x - from.x);
    const double limit = on_the_limit * std::sqrt(squared);
    if (std::abs(left_a) <= limit)
      cuts.push_back(((a.x - from.x) * way.x + (a.y - from.y) * way.y) / squared);
    if (!(std::min(left_a, left_b) < 0 && std::max(left_a, left_b) > 0)) continue;
    const Point at = between(a, b, left_a / (left_a - left_b));
    cuts.push_back(((at.x - from.x) * way.x + (at.y - from.y) * way.y) / squared);
  }
  std::erase_if(cuts, [](double share) { return !(share >= 0 && share <= 1); });
  std::sort(cuts.begin(), cuts.end());
  return cuts;
}

// Whether [x, y, width, depth] would lie in the yard if the last two were the far corner.
bool fits_as_corners(const Polygon& rectangle, const Site& site) {
  const Point low = rectangle[0];
  const Point far = {rectangle[2].x - low.x, rectangle[2].y - low.y};
  return far.x > low.x && far.y > low.y &&
         stays_inside(site.outline, {low, {far.x, low.y}, far, {low.x, far.y}, low});
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
  for (std::size_t k = 0; k < line.size(); ++k) {
    if (!inside_or_on(outline, line[k])) return false;
    if (k + 1 == line.size()) break;
    const std::vector<double> cuts = cuts_of(outline, line[k], line[k + 1]);
    for (std::size_t piece = 0; piece + 1 < cuts.size(); ++piece)
      if (!inside_or_on(outline, between(line[k], line[k + 1], 0.5 * (cuts[piece] + cuts[piece + 1]))))
        return false;
  }
  return true;
}

double shared_area(const Polygon& a, const Polygon& b) {
  const auto of_a = fan(a, a.at(0)), of_b = fan(b, a.at(0));
  double sum = 0;
  for (const Triangle& one : of_a)
    for (const Triangle& other : of_b) sum += one.sign * other.sign * shared_by_triangles(one, other);
  return std::abs(sum); // its sign is that of the ways round, taken together
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
    table.warn(key, rounded(100 * (1 - shared / whole), 2) + " % of it lies outside the yard; " +
                        consequence +
                        (key == "rectangle" && fits_as_corners(shape, site)
                             ? ". If these are two corners: it is [x, y, width, depth]"
                             : ""));
}

} // namespace lowspot::site
