#include <lowspot/surface/edges.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include <lowspot/surface/friction.hpp>

namespace lowspot::surface {
namespace {

// Slope of the water surface along the edge: the lesser of those to either side, none in a hollow, so that
// the banks of a channel do not count [m/m].
double slope_across(const Outfall& outfall, const Workspace& work, double cell_size) {
  const double here = work.level[outfall.cell];
  const double left = outfall.left < 0 ? 0 : (here - work.level[outfall.left]) / cell_size;
  const double right = outfall.right < 0 ? 0 : (work.level[outfall.right] - here) / cell_size;
  if (outfall.left < 0) return right;
  if (outfall.right < 0) return left;
  if (left * right <= 0) return 0;
  return std::abs(left) < std::abs(right) ? left : right;
}

// Over a wall water passes at critical depth, 2/3 of its head (Belanger 1828); the wall counts by its height
// as within the yard (face_kernel.cpp). Mean speed over the depth h above the crest [m/s], without bound
// where there is no wall.
double speed_over_wall(double wall, double h) {
  const double part = std::clamp(wall / h - 1.0 / 3, 0.0, 1.0);
  return part > 0 ? 2.0 / 3 * std::sqrt(2.0 / 3 * gravity * h / part)
                  : std::numeric_limits<double>::infinity();
}

} // namespace

double slope_beyond(const Outfall& outfall) {
  const double flatness = std::clamp(1 - outfall.fall / flat_bed, 0.0, 1.0);
  return outfall.share * (std::max(outfall.fall, 0.0) + flatness * flat_edge_slope);
}

EdgeFlow edge_flow(const Outfall& outfall, const Workspace& work, double cell_size) {
  const double level = work.level[outfall.cell];
  const double h = level - outfall.sill;
  if (!(h > dry_depth)) return {};
  const double outward = slope_beyond(outfall);
  const double across = slope_across(outfall, work, cell_size);
  if (!(outward > 0)) return {};
  const double through = std::max(outward, outfall.face_fall);
  const double slope = std::sqrt(through * through + across * across);
  const double n_squared = roughness_at(h, work.roughness_thin[outfall.cell], work.log_ratio[outfall.cell],
                                        work.vegetation[outfall.cell]);
  const double y = inverse_cube_root(h);
  const double manning = h * y * std::sqrt(slope / n_squared); // h^(2/3) sqrt(S) / n
  const double speed =
      std::min({manning, froude_limit * std::sqrt(gravity * h), speed_over_wall(outfall.wall, h)});
  return {h * speed * outward / slope, speed};
}

} // namespace lowspot::surface
