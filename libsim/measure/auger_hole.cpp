#include <lowspot/measure/auger_hole.hpp>

#include <algorithm>
#include <cmath>

namespace lowspot::measure {
namespace {

constexpr double pi = 3.14159265358979323846;

// One fit of Zhang, Groenevelt and Parkin (1998): C = (r / (a + b r))^power.
struct Fit {
  double sorptive_number, a, b, power;
  double at(double ratio) const { return std::pow(ratio / (a + b * ratio), power); }
};
constexpr Fit fits[] = {{1, 2.081, 0.121, 0.672}, {4, 1.992, 0.091, 0.683}, {12, 2.074, 0.093, 0.754}};

} // namespace

double shape_factor(double ratio, double sorptive_number) {
  if (sorptive_number <= fits[0].sorptive_number) return fits[0].at(ratio);
  if (sorptive_number >= fits[2].sorptive_number) return fits[2].at(ratio);
  const int k = sorptive_number < fits[1].sorptive_number ? 0 : 1;
  const double share = std::log(sorptive_number / fits[k].sorptive_number) /
                       std::log(fits[k + 1].sorptive_number / fits[k].sorptive_number);
  return (1 - share) * fits[k].at(ratio) + share * fits[k + 1].at(ratio);
}

double shape_factor_by_glover(double ratio) {
  return std::asinh(ratio) - std::sqrt(1 + 1 / (ratio * ratio)) + 1 / ratio;
}

Pull pull_on(const AugerHole& hole, double water_depth) {
  if (water_depth <= 0) return {};
  const double ratio = water_depth / hole.radius;
  const double shape = shape_factor(ratio, hole.sorptive_number);
  return {1, 2 * ratio * ratio / shape, 2 * ratio / (hole.sorptive_number * hole.radius * shape)};
}

double overstatement(const AugerHole& hole, double water_depth) {
  return pull_on(hole, water_depth).sum();
}

double conductivity_time(const AugerHole& hole, double from, double to) {
  // Five points a panel; the panels widen from the bottom, where C has a root at depth 0.
  constexpr double place[] = {0, 0.5384693101056831, 0.9061798459386640};
  constexpr double weight[] = {0.5688888888888889, 0.4786286704993665, 0.2369268850561891};
  constexpr int panels = 24;
  double sum = 0;
  for (int k = 0; k < panels; ++k) {
    const auto edge = [&](int n) {
      const double share = static_cast<double>(n) / panels;
      return to + (from - to) * share * share * share * share;
    };
    const double low = edge(k), half = 0.5 * (edge(k + 1) - low), middle = low + half;
    sum += weight[0] * half / overstatement(hole, middle);
    for (int p = 1; p < 3; ++p)
      sum += weight[p] * half *
             (1 / overstatement(hole, middle - place[p] * half) +
              1 / overstatement(hole, middle + place[p] * half));
  }
  return sum;
}

double level_after(const AugerHole& hole, double from, double through) {
  if (conductivity_time(hole, from, 0) <= through) return 0;
  double low = 0, high = from;
  for (int k = 0; k < 60; ++k) {
    const double middle = 0.5 * (low + high);
    (conductivity_time(hole, from, middle) < through ? high : low) = middle;
  }
  return 0.5 * (low + high);
}

double wetting_excess(const AugerHole& hole, double water_depth, double absorbed, double fillable) {
  const double a = hole.radius;
  const double inner = 0.5 * std::sqrt(a * a + 2 * a * std::max(0.0, water_depth));
  const double outer = std::cbrt(inner * inner * inner + 3 * std::max(0.0, absorbed) / (4 * pi * fillable));
  constexpr double most = 20;
  return outer > inner ? std::min(most, 1 / (1 - inner / outer)) : most;
}

} // namespace lowspot::measure
