#include <lowspot/drain/brink.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/drain/reach_law.hpp>

namespace lowspot::drain {

namespace {

constexpr int most_iterations = 60;
constexpr double close_enough = 1e-14; // of the diameter

} // namespace

std::optional<BrinkFlow> flow_over_brink(const Section& section, const BrinkReach& reach, double depth_above,
                                         double depth_beyond) {
  double critical_slope = 0;
  double low = std::max(0.0, depth_beyond), high = depth_above;
  if (low >= high) return {};
  // What the end would pass at its critical depth, less what comes to it: rises with the depth, and bends
  // upward.
  ReachFlow flow;
  const auto excess = [&](double depth) {
    flow =
        reach_flow(reach.conveyance, reach.drag, reach.bed + reach.push * (depth_above - depth), reach.blur);
    return free_end_flow(section, 0, depth, critical_slope) - flow.q;
  };
  if (excess(low) >= 0) return {};
  double value = excess(high);
  if (value <= 0) return {};
  double depth = high;
  for (int iteration = 0; iteration < most_iterations; ++iteration) {
    (value > 0 ? high : low) = depth;
    double next = depth - value / (critical_slope + flow.by_slope * reach.push);
    if (!(next > low && next < high)) next = 0.5 * (low + high);
    const double moved = std::abs(next - depth);
    depth = next;
    value = excess(depth);
    if (moved <= close_enough * section.diameter) break;
  }
  const double by_end = flow.by_slope * reach.push;
  const double by_above =
      flow.by_conveyance * reach.conveyance_slope + flow.by_drag * reach.drag_slope + by_end;
  return BrinkFlow{depth, flow.q, by_above * critical_slope / (critical_slope + by_end)};
}

} // namespace lowspot::drain
