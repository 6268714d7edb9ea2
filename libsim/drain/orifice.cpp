#include <lowspot/drain/orifice.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

#include <lowspot/drain/pipe_section.hpp>

namespace lowspot::drain {

double smooth_root(double x, double blur, double& slope_out) {
  const double square = x * x + blur * blur;
  const double root = std::sqrt(std::sqrt(square));
  slope_out = (square - 0.5 * x * x) / (square * root);
  return x / root;
}

double orifice_flow(double discharge_coefficient, double area, double head, double& slope_out) {
  const double strength = discharge_coefficient * area * std::sqrt(2 * gravity);
  const double root = smooth_root(head, orifice_blur, slope_out);
  slope_out *= strength;
  return strength * root;
}

double wetted_share(double diameter, double y, double& slope_out) {
  constexpr double straight = 0.01;
  static const double share_there = 2 / std::numbers::pi * std::asin(std::sqrt(straight));
  const double s = y / diameter;
  slope_out = 0;
  if (s <= 0) return 0;
  if (s >= 1) return 1;
  if (s < straight || s > 1 - straight) {
    slope_out = share_there / straight / diameter;
    return s < straight ? share_there * s / straight : 1 - share_there * (1 - s) / straight;
  }
  slope_out = 1 / (std::numbers::pi * std::sqrt(s * (1 - s)) * diameter);
  return 2 / std::numbers::pi * std::asin(std::sqrt(s));
}

Exchange2 openings_flow(const Openings& openings, double level_a, double level_b) {
  const double a = std::max(level_a, openings.invert);
  const double b = std::max(level_b, openings.invert);
  double share_slope = 0, root_slope = 0;
  const double share = wetted_share(openings.diameter, std::max(a, b) - openings.invert, share_slope);
  const double root = smooth_root(a - b, orifice_blur, root_slope);
  Exchange2 flow;
  flow.q = openings.strength * share * root;
  if (level_a > openings.invert)
    flow.da = openings.strength * (share * root_slope + (a >= b ? share_slope * root : 0));
  if (level_b > openings.invert)
    flow.db = openings.strength * (-share * root_slope + (a < b ? share_slope * root : 0));
  return flow;
}

Exchange2 short_pipe_flow(const Openings& opening, double level_a, double level_b) {
  const bool forward = level_a >= level_b;
  const double high = std::max({level_a, level_b, opening.invert});
  const double low = std::max(std::min(level_a, level_b), opening.invert);
  const double depth = high - opening.invert;
  const double middle = opening.invert + 0.5 * std::min(depth, opening.diameter);
  const bool drowned = low > middle;
  double share_slope = 0, root_slope = 0;
  const double share = wetted_share(opening.diameter, depth, share_slope);
  const double root = smooth_root(high - std::max(low, middle), orifice_blur, root_slope);
  const double head_slope = drowned || depth >= opening.diameter ? 1 : 0.5; // d head / d high
  Exchange2 flow;
  flow.q = opening.strength * share * root;
  double by_high = 0, by_low = 0;
  if (depth > 0) by_high = opening.strength * (share_slope * root + share * root_slope * head_slope);
  if (drowned) by_low = -opening.strength * share * root_slope;
  flow.da = forward ? by_high : -by_low;
  flow.db = forward ? by_low : -by_high;
  if (!forward) flow.q = -flow.q;
  return flow;
}

} // namespace lowspot::drain
