#include <lowspot/soil/moisture.hpp>

#include <algorithm>
#include <cmath>

namespace lowspot::soil {

namespace {

// (1 + x)^(-1/n) of x >= 0, by its series where few of its terms are enough: most steps drain little.
double shrunk(double x, double n) {
  constexpr double little = 1e-3; // the first term left out is then below 1e-16
  if (x > little) return std::pow(1 + x, -1 / n);
  const double a = 1 / n;
  double sum = 1;
  for (const double k : {5.0, 4.0, 3.0, 2.0, 1.0}) sum = 1 - (a + (k - 1)) * (1 / k) * x * sum;
  return sum;
}

} // namespace

double effective_saturation(const Parameters& soil, double content) {
  return std::clamp((content - soil.residual) / (soil.porosity - soil.residual), 0.0, 1.0);
}

double conductivity_at(const Parameters& soil, double content) {
  const double saturation = effective_saturation(soil, content);
  return soil.conductivity * std::pow(saturation, 3 + 2 / soil.pore_size_index);
}

double drained_content(const Parameters& soil, double content, double thickness, double dt) {
  if (content <= soil.field_capacity || thickness <= 0) return content;
  // With Se' = -a Se^n the power 1 - n of Se grows linearly in time.
  const double range = soil.porosity - soil.residual;
  const double saturation = effective_saturation(soil, content);
  const double power = 2 + 2 / soil.pore_size_index; // n - 1
  const double slope = soil.conductivity * std::pow(saturation, power) / (thickness * range);
  const double drained = saturation * shrunk(power * slope * dt, power);
  return std::clamp(soil.residual + range * drained, soil.field_capacity, content);
}

double bubbling_height(const Parameters& soil) {
  const double index = 3 * soil.pore_size_index;
  return 2 * soil.wetting_front_suction * (1 + index) / (2 + index);
}

double capillary_rise(const Parameters& soil, double distance) {
  const double height = bubbling_height(soil);
  if (distance <= height) return height > 0 || distance <= 0 ? soil.conductivity : 0;
  const double index = 3 * soil.pore_size_index;
  const double share = (1 + 1.5 / (1 + index)) * std::pow(height / distance, 2 + index);
  return soil.conductivity * std::min(1.0, share);
}

} // namespace lowspot::soil
