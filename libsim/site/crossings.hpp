// What a trench passes under.
#pragma once
#include <string>
#include <utility>
#include <vector>

#include <lowspot/site/site.hpp>

namespace lowspot::site {

// Areas by name and the length of the way in them [m], topmost area only, lawn left out; then walls that are
// passed under, with length 0.
std::vector<std::pair<std::string, double>> crossed(const Site& site, const Polyline& way);

} // namespace lowspot::site
