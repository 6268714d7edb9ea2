#include <lowspot/soil/green_ampt.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

namespace lowspot::soil {
namespace {
constexpr double infinity = std::numeric_limits<double>::infinity();

// y - ln(1 + y). Short steps need the series: it is faster, and the two terms would cancel.
double log_excess(double y) {
  if (y > 0.03) return y - std::log1p(y);
  double sum = 1.0 / 9; // the first term left out is y^10 / 10: 2e-13 of the whole
  for (int power = 8; power >= 2; --power) sum = 1.0 / power - y * sum;
  return y * y * sum;
}

} // namespace

double infiltration_rate(double conductivity, double drive, double infiltrated) {
  if (drive <= 0) return conductivity;
  return infiltrated > 0 ? conductivity * (1 + drive / infiltrated) : infinity;
}

double infiltrated_at_ponding(double conductivity, double drive, double supply) {
  return supply > conductivity ? conductivity * drive / (supply - conductivity) : infinity;
}

double ponding_time(double conductivity, double drive, double supply) {
  const double infiltrated = infiltrated_at_ponding(conductivity, drive, supply);
  return infiltrated < infinity ? infiltrated / supply : infinity;
}

double ponded_time_between(double conductivity, double drive, double from, double to) {
  const double gain = to - from;
  if (drive <= 0) return gain / conductivity;
  const double scale = from + drive;
  return (from * (gain / scale) + drive * log_excess(gain / scale)) / conductivity;
}

double infiltrated_while_ponded(double conductivity, double drive, double infiltrated, double dt) {
  const double gravity = conductivity * dt;
  const double scale = infiltrated + drive;
  if (!(gravity > 0)) return 0;
  if (drive <= 0 || scale <= 0) return gravity;
  // In y = gain / scale: infiltrated y + drive (y - ln(1 + y)) = gravity, convex and rising. The start is the
  // root of its expansion to second order with the third as a correction; gravity / scale is a lower bound,
  // better for long steps.
  double y = 2 * gravity / (infiltrated + std::sqrt(infiltrated * infiltrated + 2 * drive * gravity));
  y += y * std::min(1.0, drive * y * y / (3 * (infiltrated + drive * y)));
  y = std::max(y, gravity / scale);
  for (int iteration = 0; iteration < 40; ++iteration) {
    const double value = infiltrated * y + drive * log_excess(y) - gravity;
    // Slope and curvature are those of the equation, times (1 + y) and (1 + y)^2.
    const double slope = infiltrated + scale * y;
    const double change = 2 * value * slope * (1 + y) / (2 * slope * slope - value * drive);
    y = std::max(y - change, gravity / scale);
    if (std::abs(change) <= 1e-4 * y) break; // of third order: 1e-12 is left
  }
  return scale * y;
}

double infiltrated_under_supply(double conductivity, double drive, double infiltrated, double supply,
                                double dt) {
  const double arriving = supply * dt;
  const double at_ponding = infiltrated_at_ponding(conductivity, drive, supply);
  if (infiltrated + arriving <= at_ponding) return arriving;
  const double before = std::max(0.0, at_ponding - infiltrated);
  const double start = infiltrated + before;
  const double left = dt - before / supply;
  return std::min(arriving, before + infiltrated_while_ponded(conductivity, drive, start, left));
}

} // namespace lowspot::soil
