#include <lowspot/drain/mouth.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/drain/pipe_section.hpp>

namespace lowspot::drain {

namespace {

constexpr double least_head = 5e-3;    // m, of a film that falls into a grate
constexpr double no_weir = 1e9;        // m, a rim so long that the orifice alone limits
constexpr double close_enough = 1e-14; // m of depth

} // namespace

double mouth_flow(double rim, double area, double head, double& slope_out) {
  slope_out = 0;
  if (head <= 0) return 0;
  const double root = std::sqrt(head);
  const double weir = grate_weir * rim * head * root;
  const double orifice = grate_orifice * area * std::sqrt(2 * gravity) * root;
  const bool shallow = weir < orifice;
  slope_out = shallow ? 1.5 * weir / head : 0.5 * orifice / head;
  return shallow ? weir : orifice;
}

double depth_over_mouth(const Mouth& mouth, double before, double arriving, double back, double surface,
                        double dt) {
  // Newton's method between bounds that close in: the excess rises with the depth.
  double low = 0, high = std::max(0.0, before + std::max(0.0, arriving) * dt);
  double depth = high;
  for (int i = 0; i < 60 && high - low > close_enough; ++i) {
    double slope = 0;
    const double gone = mouth_flow(mouth.rim, mouth.area, depth - std::max(0.0, back), slope) / surface;
    const double excess = depth - before - (arriving - gone) * dt;
    (excess < 0 ? low : high) = depth;
    const double next = depth - excess / (1 + slope / surface * dt);
    if (std::abs(next - depth) <= close_enough) break;
    depth = next > low && next < high ? next : 0.5 * (low + high);
  }
  return depth;
}

Curve mouth_intake(const Mouth& mouth, const MouthWater& water, double below, double dt) {
  const double back = std::max(0.0, below - water.ground);
  Mouth part = mouth;
  part.rim *= water.share;
  part.area *= water.share;
  Curve frontal{water.frontal, 0};
  if (water.frontal > 0) {
    // Less and less of it falls in as the water below comes up to the film: in a straight line, since the
    // root of the head that is left would be too steep for Newton's method just before it closes.
    const double head = std::max(water.depth, least_head);
    double slope = 0;
    const double most = mouth_flow(no_weir, part.area, head, slope);
    const double still_open = std::max(0.0, 1 - back / head);
    if (most * still_open < water.frontal) frontal = {most * still_open, back < head ? -most / head : 0};
  }
  const double rest = std::max(0.0, water.arriving - frontal.value);
  const double over = depth_over_mouth(part, water.depth, rest / water.surface, back, water.surface, dt);
  double slope = 0;
  const double over_rim = mouth_flow(part.rim, part.area, over - back, slope);
  // The depth follows: d over / d back = pace (slope - rise) / (1 + pace slope).
  const double pace = dt / water.surface;
  const double rise = rest > 0 ? frontal.slope : 0;
  const double by_back = frontal.slope - slope * (1 + pace * rise) / (1 + pace * slope);
  return {frontal.value + over_rim, below > water.ground ? by_back : 0};
}

} // namespace lowspot::drain
