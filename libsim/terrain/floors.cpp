#include <lowspot/terrain/floors.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include <lowspot/base/text.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::terrain {
namespace {
constexpr double farthest_usual = 3.048; // m: a basement below, a house on posts above
} // namespace

void warn_of_floors(const site::Site& site, Ground& ground) {
  for (const site::Building& building : site.buildings) {
    if (!std::isfinite(building.floor)) continue;
    Polyline walls = building.outline;
    walls.push_back(walls.front());
    double lowest = std::numeric_limits<double>::infinity(), highest = -lowest;
    const Grid& grid = ground.grid;
    const Box box = bounds(building.outline);
    const double beside = 1.5 * grid.cell;
    for (std::size_t c = 0; c < grid.cells(); ++c) {
      const Point at{grid.x(grid.column(c)), grid.y(grid.row(c))};
      if (!ground.active[c] || at.x < box.low.x - beside || at.x > box.high.x + beside ||
          at.y < box.low.y - beside || at.y > box.high.y + beside || distance_to(walls, at) > beside)
        continue;
      lowest = std::min(lowest, ground.elevation[c]), highest = std::max(highest, ground.elevation[c]);
    }
    if (!std::isfinite(lowest)) continue;
    const double above = building.floor - highest, below = lowest - building.floor;
    if (std::max(above, below) <= farthest_usual) continue;
    ground.warnings.push_back(
        "\"" + building.name + "\": its `floor`, " + rounded(building.floor / site.unit, 6) + " " +
        site.units + ", lies " + site::written(std::max(above, below), Dimension::length, site) +
        (above > below ? " above" : " below") + " the ground at its walls (" +
        rounded((above > below ? highest : lowest) / site.unit, 6) + " " + site.units +
        "), so the check of water at the walls " +
        (above > below ? "passes whatever stands there" : "fails whatever stands there") +
        "; check the number and its benchmark.");
  }
}

} // namespace lowspot::terrain
