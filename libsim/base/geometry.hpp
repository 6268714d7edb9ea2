// Plane geometry in metres: points, lines and simple polygons.
#pragma once
#include <string>
#include <vector>

namespace lowspot {

// A place in the plane.
struct Point {
  double x = 0; // m, to the east
  double y = 0; // m, to the north
};
// A place with its elevation.
struct Point3 {
  double x = 0; // m, to the east
  double y = 0; // m, to the north
  double z = 0; // m, upward
};
// Points joined by straight pieces, in order.
using Polyline = std::vector<Point>;
// Corners in order, either way round, the first not repeated at the end.
using Polygon = std::vector<Point>;
// A rectangle with its sides along the axes.
struct Box {
  Point low;  // its south-west corner [m]
  Point high; // its north-east corner [m]
};

// Straight distance [m].
double distance(const Point& a, const Point& b);
// Of all its pieces [m].
double length(const Polyline& line);
double signed_area(const Polygon& polygon); // positive when the corners run anticlockwise [m2]
double area(const Polygon& polygon);        // [m2]
// Whether a point lies inside (even-odd rule); on the outline either answer may come.
bool contains(const Polygon& polygon, const Point& point);
// The least box, sides along the axes, around at least one point [m].
Box bounds(const std::vector<Point>& points);
// Of the area [m]; the first corner where the area is nothing.
Point centroid(const Polygon& polygon);
// The point at a distance [m] along a line; the ends hold beyond it.
Point point_along(const Polyline& line, double distance_along);
// Distance of a point from the nearest piece of a line [m], and where along the line that is [m].
double distance_to(const Polyline& line, const Point& point, double* along = nullptr);

// Why a polygon cannot be used ("its sides cross", "it has fewer than three corners", ...), or empty.
std::string why_not_simple(const Polygon& polygon);
// What of a polygon lies in a rectangle; pieces may be joined by sides that enclose nothing. Fewer than three
// corners: nothing.
Polygon cut_to(const Polygon& polygon, const Box& box);
// Area shared by a polygon and a rectangle [m2], exact.
double overlap_area(const Polygon& polygon, const Box& box);

} // namespace lowspot
