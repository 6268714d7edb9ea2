// What cells too coarse for a yard do to its answer.
#pragma once
#include <string>

#include <lowspot/site/site.hpp>

namespace lowspot::site {

// "2 ft is wider than "long bed" (18 in across), whose water is blurred with that beside it", of the
// narrowest area; empty where cells of this size [m] are no wider than that.
std::string blurred_words(const Site& site, double cell);

} // namespace lowspot::site
