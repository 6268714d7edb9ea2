// Figures as a person would write them, in the units of the site.
#pragma once
#include <string>

#include <lowspot/base/quantity.hpp>
#include <lowspot/site/site.hpp>

namespace lowspot::site {

// "6 in" or "152 mm", "0.2 in/hr" or "5.08 mm/hr", "12 ft" or "3.66 m" for lengths of more than 4 ft, "1 %".
// Three significant digits.
std::string written(double value, Dimension dimension, const Site& site);
std::string written(const Band& band, Dimension dimension, const Site& site);
// What is asked for where a quantity stands: "a length", "an area".
std::string a_quantity(Dimension dimension);
// The coordinates of a place in the site's units: "[12, 29]".
std::string written(const Point& place, const Site& site);

} // namespace lowspot::site
