#include <lowspot/site/area_at.hpp>

#include <algorithm>

#include <lowspot/site/wet_feet.hpp>

namespace lowspot::site {
const Area& area_at(const Site& site, const Point& place) {
  const auto top = std::find_if(site.areas.rbegin(), site.areas.rend(),
                                [&](const Area& area) { return contains(area.outline, place); });
  return top == site.areas.rend() ? site.lawn : *top;
}

bool is_lawn(const Area& area) {
  return is_grass(area.kind) || (area.plants && is_grass(area.plants->kind));
}

} // namespace lowspot::site
