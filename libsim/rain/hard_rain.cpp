#include <lowspot/rain/hard_rain.hpp>

#include <lowspot/base/text.hpp>
#include <lowspot/site/greatest_rain.hpp>

namespace lowspot::rain {

std::string depth_in_both_units(double depth) {
  return rounded(1000 * depth, 3) + " mm (" + rounded(depth / 0.0254, 3) + " in)";
}

std::string near_the_hardest(double depth, double duration) {
  if (!(duration > 0) || !(depth > 0.5 * site::greatest_rain(duration))) return "";
  return depth_in_both_units(depth) + " in " + rounded(duration / 60, 3) +
         " min comes near the hardest rain ever measured anywhere, " +
         depth_in_both_units(site::greatest_rain(duration));
}

} // namespace lowspot::rain
