#include <lowspot/site/wording.hpp>

#include <cmath>

#include <lowspot/base/text.hpp>

namespace lowspot::site {
namespace {
constexpr double inch = 0.0254, foot = 0.3048, hour = 3600, day = 86400;

std::string length_text(double value, bool feet) {
  const bool small = std::abs(value) < 4 * foot;
  if (feet) return small ? rounded(value / inch) + " in" : rounded(value / foot) + " ft";
  return small ? rounded(value * 1000) + " mm" : rounded(value) + " m";
}

std::string time_text(double value) {
  if (value >= 2 * day) return rounded(value / day) + " d";
  if (value >= hour) return rounded(value / hour) + " hr";
  return rounded(value / 60) + " min";
}
} // namespace

std::string written(double value, Dimension dimension, const Site& site) {
  const bool feet = site.units == "ft";
  switch (dimension) {
  case Dimension::length:
    return length_text(value, feet);
  case Dimension::area:
    return feet ? rounded(value / (foot * foot)) + " ft²" : rounded(value) + " m²";
  case Dimension::time:
    return time_text(value);
  case Dimension::speed:
    return feet ? rounded(value / inch * hour) + " in/hr" : rounded(value * 1000 * hour) + " mm/hr";
  case Dimension::slope:
    return rounded(value * 100) + " %";
  case Dimension::flow:
    return feet ? rounded(value / 6.30902e-5) + " gal/min" : rounded(value * 1000) + " L/s";
  case Dimension::volume:
    return feet ? rounded(value / 0.00378541) + " gal" : rounded(value) + " m³";
  case Dimension::per_time:
    return rounded(value) + " 1/s";
  default:
    return rounded(value);
  }
}

std::string written(const Band& band, Dimension dimension, const Site& site) {
  const std::string likely = written(band.likely, dimension, site);
  if (!band.is_band()) return likely;
  return likely + " (" + written(band.low, dimension, site) + " to " + written(band.high, dimension, site) +
         ")";
}

std::string a_quantity(Dimension dimension) {
  const std::string name = dimension_name(dimension);
  return (std::string("aeiou").find(name.front()) == std::string::npos ? "a " : "an ") + name;
}

std::string written(const Point& place, const Site& site) {
  return std::string("[").append(rounded(place.x / site.unit, 6)) + ", " + rounded(place.y / site.unit, 6) +
         "]";
}

} // namespace lowspot::site
