// Planes through points.
#pragma once
#include <optional>
#include <vector>

#include <lowspot/base/geometry.hpp>

namespace lowspot::terrain {

// A plane by a point of it and its slopes.
struct Plane {
  Point3 through;     // m
  double slope_x = 0; // m/m, rise to the east
  double slope_y = 0; // m/m, rise to the north
  // Elevation there [m].
  double at(double x, double y) const {
    return through.z + slope_x * (x - through.x) + slope_y * (y - through.y);
  }
};

// The plane nearest to the points in the vertical (weighted least squares; equal weights when none are
// given); exact through three. Empty when the points lie on one line, are no numbers, or are fewer than
// three.
std::optional<Plane> fit_plane(const std::vector<Point3>& points, const std::vector<double>& weights = {});

} // namespace lowspot::terrain
