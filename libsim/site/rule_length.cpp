#include <lowspot/site/rule_length.hpp>

#include <cmath>

#include <lowspot/base/text.hpp>
#include <lowspot/site/site.hpp>

namespace lowspot::site {

std::string rule_length(double feet, bool yard_in_feet) {
  const std::string ours = rounded(feet) + " ft";
  return yard_in_feet ? ours : rounded(std::round(feet * 0.3048 * 10) / 10) + " m (" + ours + ")";
}

std::string usual_size(double inches, bool yard_in_feet) {
  return yard_in_feet ? rounded(inches) + " in" : rounded(25 * inches) + " mm";
}

std::string usual_size(double inches, const Site& site) {
  return usual_size(inches, site.units == "ft");
}

double usual_size_of(double metres, bool yard_in_feet) {
  const double quarters = 4 * metres / 0.0254;
  const bool of_the_trade = std::abs(quarters - std::round(quarters)) < 1e-6;
  return yard_in_feet || !of_the_trade ? metres : std::round(quarters) * 0.025 / 4;
}

double usual_size_of(double metres, const Site& site) {
  return usual_size_of(metres, site.units == "ft");
}

} // namespace lowspot::site
