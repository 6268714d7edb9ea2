#include <lowspot/drain/orifice.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include <lowspot/drain/pipe_section.hpp>

namespace lowspot::drain {

namespace {

// Nodes on [0, 1] and their weights.
template <std::size_t Count>
struct Rule {
  std::array<double, Count> node, weight;
};
// Gauss and Legendre's rule.
constexpr Rule<5> plain = {
    {0.046910077030668004, 0.23076534494715845, 0.5, 0.7692346550528415, 0.95308992296933204},
    {0.11846344252809454, 0.23931433524968324, 0.28444444444444444, 0.23931433524968324,
     0.11846344252809454}};
constexpr Rule<10> fine = {
    {0.01304673574141414, 0.067468316655507746, 0.16029521585048781, 0.28330230293537639, 0.42556283050918442,
     0.57443716949081558, 0.71669769706462361, 0.83970478414951222, 0.93253168334449221, 0.98695326425858587},
    {0.033335672154344069, 0.074725674575290293, 0.10954318125799102, 0.13463335965499817,
     0.14776211235737644, 0.14776211235737644, 0.13463335965499817, 0.10954318125799102, 0.074725674575290293,
     0.033335672154344069}};
// The same rule with its nodes at their squares, close together towards 0.
template <std::size_t Count>
constexpr Rule<Count> squared(Rule<Count> rule) {
  for (std::size_t k = 0; k < Count; ++k) {
    rule.weight[k] *= 2 * rule.node[k];
    rule.node[k] *= rule.node[k];
  }
  return rule;
}
constexpr Rule<10> fine_at_top = squared(fine);

// Flow through openings around a circle over their strength, with its slopes.
struct ArcFlow {
  double q = 0;       // m0.5
  double by_high = 0; // d q / d high [1/m0.5]
  double by_low = 0;  // d q / d low [1/m0.5]
};

// The part of the circle between `low` and the lesser of `high` and the diameter, `top`: 1/pi of the integral
// of sqrt(high - z), and its slope in `high`; depths over the invert [m]. z = top cos2(u) makes of the
// integrand a smooth function of u, and t = tan(u / 2), from 0 to `reach`, makes of that a fraction: with n =
// 1 + t2, sin2(u) = 4 t2 / n2 and du = 2 dt / n. One root and one division a node.
template <std::size_t Count>
void add_free_part(const Rule<Count>& rule, double diameter, double high, double reach, ArcFlow& flow) {
  const double top = std::min(high, diameter), over = std::abs(high - diameter);
  double sum = 0, sum_of_slopes = 0;
  for (std::size_t k = 0; k < Count; ++k) {
    const double t = reach * rule.node[k];
    const double n = 1 + t * t, n2 = n * n;
    const double square = over * n2 + 4 * top * t * t; // n2 times (the greater of high and diameter, less z)
    const double step = rule.weight[k] / (n2 * std::sqrt(square));
    sum += step * (high < diameter ? 4 * high * t * t : square);
    sum_of_slopes += step * n2;
  }
  flow.q += 4 / std::numbers::pi * reach * sum;
  flow.by_high += 2 / std::numbers::pi * reach * sum_of_slopes;
}

// 1/pi of the integral over half the circle of sqrt(high - max(z, low)), z up to `high`, high >= low >= 0.
// Below `low` all openings work under one head. Where the free part is wide, or near the crown, whose
// openings come in nearly all at once, the nodes are many and close together towards the top of it.
ArcFlow flow_through_arc(double diameter, double high, double low) {
  constexpr double pi = std::numbers::pi;
  const double head = high - low;
  const double drowned = low < diameter ? 2 / pi * std::asin(std::sqrt(low / diameter)) : 1;
  if (head <= 0) {
    const double slope = drowned / std::sqrt(orifice_blur);
    return {0, slope, -slope};
  }
  const double root = std::sqrt(head);
  ArcFlow flow{drowned * root, 0.5 * drowned / root, -0.5 * drowned / root};
  const double top = std::min(high, diameter);
  if (low < top) {
    const double cosine = std::sqrt(low / top);
    const double reach = std::sqrt((1 - cosine) / (1 + cosine)); // tan(u / 2) at the lower level
    const bool easy = reach * reach < 0.2 && std::abs(high - diameter) > 0.25 * top;
    if (easy)
      add_free_part(plain, diameter, high, reach, flow);
    else if (reach > 0)
      add_free_part(fine_at_top, diameter, high, reach, flow);
  }
  // Straight in the head where that is within the blur of zero, as smooth_root() is.
  const double square = head * head + orifice_blur * orifice_blur;
  const double fourth = std::sqrt(std::sqrt(square));
  const double share = root / fourth;
  const double share_slope = 0.5 * orifice_blur * orifice_blur / (root * fourth * square);
  return {share * flow.q, share * flow.by_high + share_slope * flow.q,
          share * flow.by_low - share_slope * flow.q};
}

} // namespace

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

Exchange2 openings_flow(const Openings& openings, double level_a, double level_b) {
  const double a = std::max(0.0, level_a - openings.invert);
  const double b = std::max(0.0, level_b - openings.invert);
  const bool forward = a >= b;
  const ArcFlow arc = flow_through_arc(openings.diameter, forward ? a : b, forward ? b : a);
  Exchange2 flow;
  flow.q = (forward ? 1 : -1) * openings.strength * arc.q;
  if (level_a > openings.invert) flow.da = openings.strength * (forward ? arc.by_high : -arc.by_low);
  if (level_b > openings.invert) flow.db = openings.strength * (forward ? arc.by_low : -arc.by_high);
  return flow;
}

Exchange2 short_pipe_flow(const Openings& opening, double level_a, double level_b) {
  const bool forward = level_a >= level_b;
  const double high = std::max({level_a, level_b, opening.invert});
  const double low = std::max(std::min(level_a, level_b), opening.invert);
  const double depth = high - opening.invert;
  const double middle = opening.invert + 0.5 * std::min(depth, opening.diameter);
  const bool drowned = low > middle;
  const double whole = std::numbers::pi / 4 * opening.diameter * opening.diameter;
  const double share = wetted_area(opening.diameter, depth) / whole;
  const double share_slope = top_width(opening.diameter, depth) / whole;
  double root_slope = 0;
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
