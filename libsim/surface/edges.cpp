#include <lowspot/surface/edges.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/surface/friction.hpp>

namespace lowspot::surface {

EdgeFlow edge_flow(const Outfall& outfall, const Workspace& work, double cell_size) {
  const double level = work.level[outfall.cell];
  const double h = level - outfall.sill;
  if (!(h > dry_depth)) return {};
  double outward = outfall.fall;
  if (outward < least_edge_slope) {
    const double surface = outfall.inner < 0 ? 0.0 : (work.level[outfall.inner] - level) / cell_size;
    outward = std::max(surface, least_edge_slope);
  }
  double across = 0;
  if (outfall.left >= 0 && outfall.right >= 0)
    across = (work.level[outfall.right] - work.level[outfall.left]) / (2 * cell_size);
  else if (outfall.left >= 0)
    across = (level - work.level[outfall.left]) / cell_size;
  else if (outfall.right >= 0)
    across = (work.level[outfall.right] - level) / cell_size;
  const double slope = std::sqrt(outward * outward + across * across);
  const double n_squared = roughness_at(h, work.roughness_thin[outfall.cell], work.log_ratio[outfall.cell],
                                        work.vegetation[outfall.cell]);
  const double y = inverse_cube_root(h);
  const double manning = h * y * std::sqrt(slope / n_squared); // h^(2/3) sqrt(S) / n
  const double speed = std::min(manning, froude_limit * std::sqrt(gravity * h));
  return {h * speed * outward / slope, speed};
}

} // namespace lowspot::surface
