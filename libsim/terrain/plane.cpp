#include <lowspot/terrain/plane.hpp>

#include <cmath>
#include <stdexcept>

namespace lowspot::terrain {

std::optional<Plane> fit_plane(const std::vector<Point3>& points, const std::vector<double>& weights) {
  if (!weights.empty() && weights.size() != points.size())
    throw std::invalid_argument("a plane needs a weight for each point, or none");
  if (points.size() < 3) return std::nullopt;
  auto weight = [&](std::size_t k) { return weights.empty() ? 1.0 : weights[k]; };
  // From the first point, then from the weighted centre, so that large coordinates cost no digits.
  const Point3 origin = points[0];
  Point3 mean;
  double total = 0;
  for (std::size_t k = 0; k < points.size(); ++k) {
    total += weight(k);
    mean.x += weight(k) * (points[k].x - origin.x);
    mean.y += weight(k) * (points[k].y - origin.y);
    mean.z += weight(k) * (points[k].z - origin.z);
  }
  mean = {mean.x / total, mean.y / total, mean.z / total};
  double xx = 0, xy = 0, yy = 0, xz = 0, yz = 0;
  for (std::size_t k = 0; k < points.size(); ++k) {
    const double x = points[k].x - origin.x - mean.x, y = points[k].y - origin.y - mean.y;
    const double z = points[k].z - origin.z - mean.z;
    xx += weight(k) * x * x;
    xy += weight(k) * x * y;
    yy += weight(k) * y * y;
    xz += weight(k) * x * z;
    yz += weight(k) * y * z;
  }
  const double determinant = xx * yy - xy * xy;
  if (!(determinant > 1e-9 * (xx + yy) * (xx + yy))) return std::nullopt;
  Plane plane;
  plane.through = {origin.x + mean.x, origin.y + mean.y, origin.z + mean.z};
  plane.slope_x = (yy * xz - xy * yz) / determinant;
  plane.slope_y = (xx * yz - xy * xz) / determinant;
  // Points or weights that are no numbers fit no plane.
  if (!std::isfinite(plane.through.z + plane.slope_x + plane.slope_y)) return std::nullopt;
  return plane;
}

} // namespace lowspot::terrain
