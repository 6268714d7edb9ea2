#include <lowspot/results/drain_reach.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

namespace lowspot::results {
namespace {
constexpr double wet = 1e-3; // m of saturated ground that counts

struct Ring {
  double before = 0, after = 0; // sums of thickness [m]
  double gap = 0;               // sum of distances from the wall [m]
  int cells = 0;
};

// Whether a place lies left of the line at the distance `along` from its head.
bool is_left(const Polyline& path, double along, const Point& at) {
  double passed = 0;
  for (std::size_t k = 1; k < path.size(); ++k) {
    const double piece = distance(path[k - 1], path[k]);
    if (along <= passed + piece || k + 1 == path.size())
      return (path[k].x - path[k - 1].x) * (at.y - path[k - 1].y) -
                 (path[k].y - path[k - 1].y) * (at.x - path[k - 1].x) >
             0;
    passed += piece;
  }
  return false;
}

// Rings without a cell (cells lie on rings' limits, a shed in the way) are passed over.
double reach_in(const std::vector<Ring>& rings) {
  double inner_gap = 0, inner_share = 0;
  bool any = false;
  for (const Ring& ring : rings) {
    if (ring.cells == 0) continue;
    const double gap = ring.gap / ring.cells;
    if (ring.before < wet * ring.cells) return any ? inner_gap : 0;
    const double share = ring.after / ring.before;
    if (share > 0.5)
      return any ? inner_gap + (0.5 - inner_share) / (share - inner_share) * (gap - inner_gap) : 0;
    inner_gap = gap;
    inner_share = share;
    any = true;
  }
  return inner_gap;
}

} // namespace

DrainReach reach_of_trench(const Grid& grid, const Mask& active, const Polyline& path, double half_width,
                           const std::vector<float>& before, const std::vector<float>& after) {
  const double whole = length(path);
  std::vector<Ring> left, right;
  for (std::size_t c = 0; c < grid.cells(); ++c) {
    if (!active[c]) continue;
    const Point at{grid.x(grid.column(c)), grid.y(grid.row(c))};
    double along = 0;
    const double gap = distance_to(path, at, &along) - half_width;
    if (gap < 0 || along <= 1e-9 || along >= whole - 1e-9) continue;
    std::vector<Ring>& side = is_left(path, along, at) ? left : right;
    const auto ring = static_cast<std::size_t>(gap / grid.cell);
    if (side.size() <= ring) side.resize(ring + 1);
    side[ring].before += before[c];
    side[ring].after += after[c];
    side[ring].gap += gap;
    ++side[ring].cells;
  }
  DrainReach reach;
  reach.left = reach_in(left);
  reach.right = reach_in(right);
  return reach;
}

void find_reach(const Comparison& comparison, DesignRecord& design, const std::vector<double>& widths,
                double later) {
  if (comparison.designs.empty()) return;
  const std::vector<Frame>& before = comparison.designs.front().frames;
  for (const Frame& after : design.frames) {
    if (after.time < comparison.end_of_rain + later) continue;
    const auto same = std::find_if(before.begin(), before.end(), [&](const Frame& frame) {
      return std::abs(frame.time - after.time) < 1 && frame.perched.size() == after.perched.size();
    });
    if (same == before.end() || after.perched.size() != comparison.grid.cells()) continue;
    for (std::size_t r = 0; r < design.drains.size() && r < design.profiles.size(); ++r) {
      if (r >= widths.size() || !(widths[r] > 0)) continue;
      design.drains[r].reach = reach_of_trench(comparison.grid, comparison.active, design.profiles[r].path,
                                               widths[r] / 2, same->perched, after.perched);
      design.drains[r].reach.time = after.time;
    }
    return;
  }
}

} // namespace lowspot::results
