// A triangulation of scattered points, and heights interpolated on it.
#pragma once
#include <array>
#include <vector>

#include <lowspot/base/field.hpp>
#include <lowspot/base/geometry.hpp>
#include <lowspot/base/grid.hpp>

namespace lowspot::terrain {

// Three points with the triangles beside them.
struct Triangle {
  std::array<int, 3> corner; // indices of points, anticlockwise
  std::array<int, 3> beside; // the triangle across the side opposite corner k, -1 outside the hull
};

// Points joined by triangles that cover their convex hull, but for what is thinner than places are told
// apart.
struct Tin {
  std::vector<Point3> points;            // as given [m]
  std::vector<Triangle> triangles;       // in no order
  std::vector<std::array<int, 2>> hull;  // sides of what they cover, anticlockwise, in no order
  std::vector<std::array<int, 2>> fixed; // sides that follow lines given by the caller
  int missed = 0;                        // lines that could not be followed: they cross others
};

// Delaunay triangulation, the dual of the Voronoi diagram (Fortune 1987). Points within 1e-5 m of each other
// (more where they span over 10 km) count as one, the first. Without triangles when all points lie on one
// line. Throws std::invalid_argument for a place that is no number.
Tin triangulate(const std::vector<Point3>& points);
// As above, with the straight lines between pairs of `points` as sides of triangles; elsewhere as near to
// Delaunay as they allow. Lines may meet at points only: one that crosses another is left out and counted;
// one between points that are not there is refused, as above.
Tin triangulate(const std::vector<Point3>& points, const std::vector<std::array<int, 2>>& edges);

// A height of a triangulation.
struct TinValue {
  double z = 0;   // m
  double gap = 0; // distance outside the hull [m]; 0 inside
};

// Linear inside; outside the value at the nearest point of the hull. `hint` is the triangle to start the
// search from and becomes the one that was found, so that neighbouring points cost a step or two each. The
// triangulation must have triangles.
TinValue interpolate(const Tin& tin, const Point& at, int& hint);

// Values at the centres of all cells; `gap` (optional) as in TinValue.
Field interpolate(const Tin& tin, const Grid& grid, Field* gap = nullptr);

} // namespace lowspot::terrain
