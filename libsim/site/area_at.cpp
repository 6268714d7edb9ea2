#include <lowspot/site/area_at.hpp>

#include <algorithm>

#include <lowspot/base/text.hpp>

namespace lowspot::site {
namespace {
bool names_turf(const std::string& kind) {
  const std::string words = lower(kind);
  const auto has = [&](const char* word) { return words.find(word) != std::string::npos; };
  return has("lawn") || has("turf") || has("grass") || words == "sod";
}
} // namespace

const Area& area_at(const Site& site, const Point& place) {
  const auto top = std::find_if(site.areas.rbegin(), site.areas.rend(),
                                [&](const Area& area) { return contains(area.outline, place); });
  return top == site.areas.rend() ? site.lawn : *top;
}

bool is_lawn(const Area& area) {
  return names_turf(area.kind) || (area.plants && names_turf(area.plants->kind));
}

} // namespace lowspot::site
