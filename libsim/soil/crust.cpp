#include <lowspot/soil/crust.hpp>

#include <cmath>
#include <limits>

namespace lowspot::soil {

double crust_as_soil(const Parameters& soil) {
  if (!has_crust(soil)) return 0;
  if (soil.crust_conductivity <= 0) return std::numeric_limits<double>::infinity();
  return soil.conductivity * soil.crust_thickness / soil.crust_conductivity;
}

bool crust_limits(const Parameters& soil, double ponded) {
  return has_crust(soil) && crust_as_soil(soil) > ponded + soil.crust_thickness + soil.wetting_front_suction;
}

double rate_through_crust(const Parameters& soil, double ponded) {
  if (soil.crust_conductivity <= 0 || soil.conductivity <= 0) return 0;
  const double length = crust_as_soil(soil), head = ponded + soil.crust_thickness;
  const double power = 1 / (2 + 3 * soil.pore_size_index);
  // In y = q/K: length y - suction y^-power = head, rising and concave in y. From the left Newton's method
  // climbs without overshooting.
  double y = (head + soil.wetting_front_suction) / length;
  if (y >= 1) return soil.conductivity;
  for (int iteration = 0; iteration < 30; ++iteration) {
    const double suction = soil.wetting_front_suction * std::pow(y, -power);
    const double change = (head + suction - length * y) / (length + power * suction / y);
    y += change;
    if (change <= 1e-13 * y) break;
  }
  return soil.conductivity * std::fmin(y, 1);
}

} // namespace lowspot::soil
