#include <lowspot/drain/stone_flow.hpp>

#include <algorithm>
#include <cmath>

namespace lowspot::drain {

double stone_flux(double gradient, double conductivity, double forchheimer_b, double& slope_out) {
  if (conductivity <= 0) {
    slope_out = 0;
    return 0;
  }
  const double linear = 1 / conductivity;
  const double root = std::sqrt(linear * linear + 4 * forchheimer_b * std::abs(gradient));
  slope_out = 1 / root;
  return 2 * gradient / (linear + root);
}

Exchange2 stone_reach_flow(const StoneReach& reach, double level_a, double level_b) {
  const bool forward = std::max(level_a, reach.bottom_a) >= std::max(level_b, reach.bottom_b);
  const double height_a = std::clamp(level_a, reach.bottom_a, reach.top_a) - reach.bottom_a;
  const double height_b = std::clamp(level_b, reach.bottom_b, reach.top_b) - reach.bottom_b;
  const double giving = forward ? height_a : height_b;
  const double mean = 0.5 * (height_a + height_b);
  const bool use_mean = mean < giving;
  const double height = use_mean ? mean : giving;
  // The height follows a level only between bottom and top of the stone.
  const double follows_a = height_a > 0 && level_a < reach.top_a ? 1 : 0;
  const double follows_b = height_b > 0 && level_b < reach.top_b ? 1 : 0;
  const double height_da = follows_a * (use_mean ? 0.5 : (forward ? 1.0 : 0.0));
  const double height_db = follows_b * (use_mean ? 0.5 : (forward ? 0.0 : 1.0));

  const double head_a = std::max(level_a, reach.bottom_a);
  const double head_b = std::max(level_b, reach.bottom_b);
  double flux_slope = 0;
  const double flux =
      stone_flux((head_a - head_b) / reach.distance, reach.conductivity, reach.forchheimer_b, flux_slope);
  const double wet_slope = reach.width * height * flux_slope / reach.distance;
  Exchange2 flow;
  flow.q = reach.width * height * flux;
  flow.da = reach.width * height_da * flux + (level_a > reach.bottom_a ? wet_slope : 0);
  flow.db = reach.width * height_db * flux - (level_b > reach.bottom_b ? wet_slope : 0);
  return flow;
}

} // namespace lowspot::drain
