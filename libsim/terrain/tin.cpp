#include <lowspot/terrain/tin.hpp>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>
#include <stdexcept>

#include <boost/polygon/voronoi.hpp>

#include <lowspot/terrain/constrain.hpp>

namespace lowspot::terrain {
namespace {

// Twice the area of a, b, p: positive when p lies left of a to b.
double left_of(const Point3& a, const Point3& b, const Point& p) {
  return (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
}

// Whether p lies left of a to b, or on the line but for the rounding of its distance. Without such a hair,
// two triangles could each take a point on the side between them for one of the other.
bool left_of_or_on(const Point3& a, const Point3& b, const Point& p) {
  constexpr double hair = 1e-9; // m
  return left_of(a, b, p) >= -hair * std::hypot(b.x - a.x, b.y - a.y);
}

using WholePoint = boost::polygon::point_data<int>;

// Whole-number places, on which the diagram's predicates are exact. Keeps the first of points on one place;
// `kept` says where in the triangulation each point went, `step` how far whole numbers are apart [m].
std::vector<WholePoint> snap(const std::vector<Point3>& points, Tin& tin, std::vector<int>& kept,
                             double& step) {
  Point low{points[0].x, points[0].y}, high = low;
  for (const Point3& p : points) {
    low = {std::min(low.x, p.x), std::min(low.y, p.y)};
    high = {std::max(high.x, p.x), std::max(high.y, p.y)};
  }
  const double span = std::max({high.x - low.x, high.y - low.y, 1e-3});
  const double scale = std::min(1e5, 1e9 / span);
  step = 1 / scale;
  std::vector<std::pair<WholePoint, int>> placed;
  for (std::size_t k = 0; k < points.size(); ++k)
    placed.push_back({WholePoint(static_cast<int>(std::lround((points[k].x - low.x) * scale)),
                                 static_cast<int>(std::lround((points[k].y - low.y) * scale))),
                      static_cast<int>(k)});
  std::sort(placed.begin(), placed.end(), [](const auto& a, const auto& b) {
    return a.first.x() != b.first.x()   ? a.first.x() < b.first.x()
           : a.first.y() != b.first.y() ? a.first.y() < b.first.y()
                                        : a.second < b.second;
  });
  std::vector<WholePoint> places;
  kept.assign(points.size(), -1);
  for (const auto& [place, index] : placed) {
    if (places.empty() || !(places.back() == place)) {
      places.push_back(place);
      tin.points.push_back(points[index]);
    }
    kept[index] = static_cast<int>(places.size()) - 1;
  }
  return places;
}

// Every corner of the diagram is the centre of a circle through three or more points: a fan of triangles.
void add_triangles(const std::vector<WholePoint>& places, Tin& tin) {
  boost::polygon::voronoi_diagram<double> diagram;
  boost::polygon::construct_voronoi(places.begin(), places.end(), &diagram);
  auto turn = [&](int a, int b, int c) {
    const std::int64_t ux = static_cast<std::int64_t>(places[b].x()) - places[a].x();
    const std::int64_t uy = static_cast<std::int64_t>(places[b].y()) - places[a].y();
    const std::int64_t vx = static_cast<std::int64_t>(places[c].x()) - places[a].x();
    const std::int64_t vy = static_cast<std::int64_t>(places[c].y()) - places[a].y();
    return ux * vy - uy * vx;
  };
  std::vector<int> around;
  for (const auto& vertex : diagram.vertices()) {
    around.clear();
    const auto* edge = vertex.incident_edge();
    do {
      around.push_back(static_cast<int>(edge->cell()->source_index()));
      edge = edge->rot_next();
    } while (edge != vertex.incident_edge());
    for (std::size_t k = 2; k < around.size(); ++k) {
      std::array<int, 3> corner = {around[0], around[k - 1], around[k]};
      const std::int64_t twice_area = turn(corner[0], corner[1], corner[2]);
      if (twice_area == 0) continue;
      if (twice_area < 0) std::swap(corner[1], corner[2]);
      tin.triangles.push_back({corner, {-1, -1, -1}});
    }
  }
}

void link_triangles(Tin& tin) {
  struct SideOf {
    int low, high, triangle, opposite;
  };
  std::vector<SideOf> sides;
  sides.reserve(3 * tin.triangles.size());
  for (std::size_t t = 0; t < tin.triangles.size(); ++t)
    for (int k = 0; k < 3; ++k) {
      const int a = tin.triangles[t].corner[(k + 1) % 3], b = tin.triangles[t].corner[(k + 2) % 3];
      sides.push_back({std::min(a, b), std::max(a, b), static_cast<int>(t), k});
    }
  std::sort(sides.begin(), sides.end(), [](const SideOf& p, const SideOf& q) {
    return p.low != q.low ? p.low < q.low : p.high != q.high ? p.high < q.high : p.triangle < q.triangle;
  });
  for (std::size_t s = 0; s < sides.size(); ++s) {
    const SideOf& side = sides[s];
    if (s + 1 < sides.size() && sides[s + 1].low == side.low && sides[s + 1].high == side.high) {
      const SideOf& twin = sides[++s];
      tin.triangles[side.triangle].beside[side.opposite] = twin.triangle;
      tin.triangles[twin.triangle].beside[twin.opposite] = side.triangle;
    }
  }
}

// Points on one straight line need not lie on one after they were moved to whole numbers. A triangle that
// this makes on the hull has no width to interpolate over; without it, the hull follows its other two sides.
void drop_flat_on_hull(double step, Tin& tin) {
  std::vector<Triangle>& triangles = tin.triangles;
  std::vector<char> flat(triangles.size(), 0);
  std::vector<int> open;
  for (std::size_t t = 0; t < triangles.size(); ++t) open.push_back(static_cast<int>(t));
  while (!open.empty()) {
    const int t = open.back();
    open.pop_back();
    if (flat[t]) continue;
    for (int k = 0; k < 3; ++k) {
      const auto& corner = triangles[t].corner;
      const Point3 &top = tin.points[corner[k]], &a = tin.points[corner[(k + 1) % 3]],
                   &b = tin.points[corner[(k + 2) % 3]];
      const double ux = b.x - a.x, uy = b.y - a.y, along = (top.x - a.x) * ux + (top.y - a.y) * uy;
      const double square = ux * ux + uy * uy;
      if (triangles[t].beside[k] >= 0 || along <= 0 || along >= square) continue;
      if (left_of(a, b, {top.x, top.y}) > 2 * step * std::sqrt(square)) continue;
      flat[t] = 1;
    }
    if (!flat[t]) continue;
    for (const int other : triangles[t].beside) {
      if (other < 0) continue;
      for (int& beside : triangles[other].beside)
        if (beside == t) beside = -1;
      open.push_back(other);
    }
  }
  std::vector<int> became(triangles.size(), -1);
  std::vector<Triangle> kept;
  for (std::size_t t = 0; t < triangles.size(); ++t) {
    if (flat[t]) continue;
    became[t] = static_cast<int>(kept.size());
    kept.push_back(triangles[t]);
  }
  triangles.swap(kept);
  tin.hull.clear();
  for (Triangle& triangle : triangles)
    for (int k = 0; k < 3; ++k) {
      int& beside = triangle.beside[k];
      if (beside >= 0)
        beside = became[beside];
      else
        tin.hull.push_back({triangle.corner[(k + 1) % 3], triangle.corner[(k + 2) % 3]});
    }
}

// Walks towards a point across the sides it lies beyond. -1: outside the hull.
int locate(const Tin& tin, const Point& at, int start) {
  int triangle = start;
  const std::size_t most = tin.triangles.size() + 8;
  for (std::size_t step = 0; step < most; ++step) {
    const Triangle& here = tin.triangles[triangle];
    int next = triangle;
    // Beginning with another side at each step keeps the walk from going round in circles.
    for (int turn = 0; turn < 3 && next == triangle; ++turn) {
      const int k = static_cast<int>((step + turn) % 3);
      if (!left_of_or_on(tin.points[here.corner[(k + 1) % 3]], tin.points[here.corner[(k + 2) % 3]], at))
        next = here.beside[k];
    }
    if (next == triangle || next < 0) return next;
    triangle = next;
  }
  // Rounding can send a walk round in circles at triangles thinner than the rounding of coordinates.
  for (std::size_t t = 0; t < tin.triangles.size(); ++t) {
    const auto& corner = tin.triangles[t].corner;
    bool inside = true;
    for (int k = 0; k < 3; ++k)
      inside = inside && left_of_or_on(tin.points[corner[k]], tin.points[corner[(k + 1) % 3]], at);
    if (inside) return static_cast<int>(t);
  }
  return -1;
}

TinValue nearest_on_hull(const Tin& tin, const Point& at) {
  TinValue best;
  best.gap = std::numeric_limits<double>::infinity();
  for (const auto& [first, second] : tin.hull) {
    const Point3& a = tin.points[first];
    const Point3& b = tin.points[second];
    const double ux = b.x - a.x, uy = b.y - a.y;
    const double share = std::clamp(((at.x - a.x) * ux + (at.y - a.y) * uy) / (ux * ux + uy * uy), 0.0, 1.0);
    const double gap = std::hypot(a.x + share * ux - at.x, a.y + share * uy - at.y);
    if (gap < best.gap) best = {a.z + share * (b.z - a.z), gap};
  }
  return best;
}

// Lines between points that the triangulation is to follow.
void follow_lines(const std::vector<std::array<int, 2>>& edges, const std::vector<int>& kept,
                  const std::vector<WholePoint>& places, Tin& tin) {
  std::vector<Place> whole;
  for (const WholePoint& place : places) whole.push_back({place.x(), place.y()});
  std::vector<std::array<int, 2>> lines;
  for (const auto& [a, b] : edges)
    if (kept[a] != kept[b]) lines.push_back({kept[a], kept[b]});
  tin.missed = follow_edges(whole, lines, tin);
}

} // namespace

Tin triangulate(const std::vector<Point3>& points) {
  return triangulate(points, {});
}

Tin triangulate(const std::vector<Point3>& points, const std::vector<std::array<int, 2>>& edges) {
  Tin tin;
  for (const Point3& point : points)
    if (!std::isfinite(point.x) || !std::isfinite(point.y))
      throw std::invalid_argument("a triangulation needs points whose places are numbers");
  const int count = static_cast<int>(points.size());
  for (const auto& [a, b] : edges)
    if (a < 0 || b < 0 || a >= count || b >= count)
      throw std::invalid_argument("a triangulation has a line between points that it has not");
  if (points.empty()) return tin;
  std::vector<int> kept;
  double step = 0;
  const std::vector<WholePoint> places = snap(points, tin, kept, step);
  if (places.size() < 3) return tin;
  add_triangles(places, tin);
  link_triangles(tin);
  if (!edges.empty() && !tin.triangles.empty()) follow_lines(edges, kept, places, tin);
  drop_flat_on_hull(step, tin);
  return tin;
}

TinValue interpolate(const Tin& tin, const Point& at, int& hint) {
  if (hint < 0 || hint >= static_cast<int>(tin.triangles.size())) hint = 0;
  const int found = locate(tin, at, hint);
  if (found < 0) {
    TinValue value = nearest_on_hull(tin, at);
    if (value.gap < 5e-5) value.gap = 0; // on the hull but for what was moved to whole numbers
    return value;
  }
  hint = found;
  const auto& corner = tin.triangles[found].corner;
  const Point3 &a = tin.points[corner[0]], &b = tin.points[corner[1]], &c = tin.points[corner[2]];
  const double twice_area = left_of(a, b, {c.x, c.y});
  if (!(twice_area > 0)) return {a.z, 0};
  const double share_b = left_of(c, a, at) / twice_area, share_c = left_of(a, b, at) / twice_area;
  return {a.z + share_b * (b.z - a.z) + share_c * (c.z - a.z), 0};
}

Field interpolate(const Tin& tin, const Grid& grid, Field* gap) {
  Field values(grid.cells());
  if (gap) gap->resize(grid.cells());
  int row_hint = 0;
  for (int j = 0; j < grid.ny; ++j) {
    int hint = row_hint;
    for (int i = 0; i < grid.nx; ++i) {
      const TinValue value = interpolate(tin, {grid.x(i), grid.y(j)}, hint);
      values[grid.index(i, j)] = value.z;
      if (gap) (*gap)[grid.index(i, j)] = value.gap;
      if (i == 0) row_hint = hint;
    }
  }
  return values;
}

} // namespace lowspot::terrain
