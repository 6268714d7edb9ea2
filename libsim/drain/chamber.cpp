#include <lowspot/drain/chamber.hpp>

#include <algorithm>

namespace lowspot::drain {

namespace {
constexpr double film = 2e-3; // m of water on the bottom at which all of the bottom soaks
} // namespace

Curve smooth_positive(double x, double blur) {
  if (x <= 0) return {};
  return {x * x / (x + blur), x * (x + 2 * blur) / ((x + blur) * (x + blur))};
}

Curve smooth_step(double x) {
  if (x <= 0) return {};
  if (x >= 1) return {1, 0};
  return {x * x * (3 - 2 * x), 6 * x * (1 - x)};
}

Curve soak_rate(const Chamber& chamber, double level) {
  const Curve wet = smooth_step((level - chamber.bottom) / film);
  const double reach = std::max(0.0, chamber.soak_top - chamber.bottom);
  const double wall = std::clamp(level - chamber.bottom, 0.0, reach);
  const double follows = level > chamber.bottom && wall < reach ? 1 : 0;
  return {chamber.soak_conductivity * (chamber.soak_plan * wet.value + chamber.soak_perimeter * wall),
          chamber.soak_conductivity *
              (chamber.soak_plan * wet.slope / film + chamber.soak_perimeter * follows)};
}

} // namespace lowspot::drain
