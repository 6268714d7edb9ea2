#include <lowspot/site/blurred.hpp>

#include <algorithm>

#include <lowspot/base/geometry.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::site {
namespace {

double across(const Area& area) {
  const Box box = bounds(area.outline);
  return std::min(box.high.x - box.low.x, box.high.y - box.low.y);
}

} // namespace

std::string blurred_words(const Site& site, double cell) {
  const auto narrowest = std::min_element(site.areas.begin(), site.areas.end(),
                                          [](const Area& a, const Area& b) { return across(a) < across(b); });
  if (narrowest == site.areas.end() || !(across(*narrowest) < cell * (1 - 1e-9))) return "";
  return written(cell, Dimension::length, site) + " is wider than \"" + narrowest->name + "\" (" +
         written(across(*narrowest), Dimension::length, site) +
         " across), whose water is blurred with that beside it";
}

} // namespace lowspot::site
