#include <lowspot/site/rule_length.hpp>

#include <cmath>

#include <lowspot/base/text.hpp>

namespace lowspot::site {

std::string rule_length(double feet, bool yard_in_feet) {
  const std::string ours = rounded(feet) + " ft";
  return yard_in_feet ? ours : rounded(std::round(feet * 0.3048 * 10) / 10) + " m (" + ours + ")";
}

} // namespace lowspot::site
