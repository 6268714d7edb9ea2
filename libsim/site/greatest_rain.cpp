#include <lowspot/site/greatest_rain.hpp>

#include <cmath>

namespace lowspot::site {

double greatest_rain(double duration) {
  constexpr double in_an_hour = 16.6 * 0.0254; // m
  return in_an_hour * std::pow(duration / 3600, 0.475);
}

} // namespace lowspot::site
