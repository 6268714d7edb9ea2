#include <lowspot/site/under_buildings.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/base/text.hpp>
#include <lowspot/site/places.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::site {
namespace {
constexpr double wall_width = 0.1524;  // m, 6 in: drawn on a wall is not drawn inside
constexpr double under_eaves = 0.9144; // m, 3 ft
constexpr double piece_length = 0.05;  // m between places that are tried
constexpr double least_under = 0.3048; // m, 1 ft of a line

double depth_inside(const Building& building, const Point& place) {
  if (!contains(building.outline, place)) return 0;
  Polyline walls = building.outline;
  walls.push_back(walls.front());
  return distance_to(walls, place);
}

const char* const mend = "Move it out of the building, or correct the building's outline.";
} // namespace

void refuse_under_building(const TableReader& table, const std::string& key, const Point& place) {
  const Site& site = table.context().site;
  for (const Building& building : site.buildings) {
    const double inside = depth_inside(building, place);
    if (inside > wall_width)
      table.fail(key,
                 written(place, site) + ", under the building \"" + building.name + "\", " +
                     written(inside, Dimension::length, site) + " inside its walls",
                 "a place in the open yard", mend);
  }
}

void refuse_under_building(const TableReader& table, const std::string& key, const Polygon& outline) {
  const Site& site = table.context().site;
  const double whole = area(outline);
  for (const Building& building : site.buildings) {
    const double under = shared_area(outline, building.outline);
    if (under > 0.02 * whole)
      table.fail(key,
                 "a shape of which " + rounded(100 * under / whole, 2) + " % lies under the building \"" +
                     building.name + "\"",
                 "a shape in the open yard", mend);
  }
}

void warn_under_building(const TableReader& table, const std::string& key, const Polyline& line) {
  const Site& site = table.context().site;
  const double whole = length(line);
  const int pieces = std::max(1, static_cast<int>(std::ceil(whole / piece_length)));
  for (const Building& building : site.buildings) {
    double under = 0;
    bool at_head = true;      // still inside since the head
    double since_outside = 0; // m inside since the line last was outside
    for (int k = 0; k < pieces; ++k) {
      const double piece = whole / pieces;
      if (contains(building.outline, point_along(line, piece * (k + 0.5)))) {
        since_outside += piece;
        continue;
      }
      if (!at_head || since_outside > under_eaves) under += since_outside;
      at_head = false;
      since_outside = 0;
    }
    if (since_outside > under_eaves) under += since_outside; // up to its foot
    if (under > least_under)
      table.warn(
          key, "runs under the building \"" + building.name + "\" for " +
                   written(under, Dimension::length, site) +
                   ": it is computed, but can hardly be dug there and undermines what stands on it; lead it "
                   "around, or check its points and the building's outline");
  }
}

} // namespace lowspot::site
