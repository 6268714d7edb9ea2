#include <lowspot/terrain/falls_to_house.hpp>

#include <algorithm>
#include <vector>

#include <lowspot/base/text.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::terrain {
namespace {
constexpr double along_wall = 0.1524;                // m between places along a wall
constexpr double farthest = 3.048, nearest = 0.9144; // m of paving that a fall is judged by
constexpr double least_fall = 0.005;                 // m/m: less may be the level's reading
constexpr double shortest_stretch = 0.6096;          // m of wall

// Paving of one area along the walls of one building.
struct Stretch {
  double length = 0; // m of wall
  double rise = 0;   // sum over it of the rise away from the wall [m/m x m]
};

// The area that is seen at a place, or -1.
int area_at(const site::Site& site, const Point& at) {
  for (std::size_t k = site.areas.size(); k-- > 0;)
    if (contains(site.areas[k].outline, at)) return static_cast<int>(k);
  return -1;
}

// Looks outward from a place on a wall and adds what paving does there.
void look_out(const site::Site& site, const Ground& ground, const Point& wall, const Point& outward,
              double width, std::vector<Stretch>& stretches) {
  const double cell = ground.grid.cell;
  const auto out = [&](double d) { return Point{wall.x + d * outward.x, wall.y + d * outward.y}; };
  const auto area_of = [&](double d) {
    const Point at = out(d);
    const long c = cell_at(ground.grid, at.x, at.y);
    return c >= 0 && ground.active[c] ? area_at(site, at) : -1;
  };
  // One cell out, so that no ground under the building has a part in the elevation.
  const int area = area_of(cell);
  if (area < 0 || !site.areas[area].impervious) return;
  double end = cell;
  for (double d = cell; d <= farthest + 1e-9 && area_of(d) == area; d += 0.5 * cell) end = d;
  end -= 0.5 * cell; // no ground beyond the paving either
  if (end - cell < nearest - cell) return;
  stretches[area].length += width;
  stretches[area].rise +=
      width * (elevation_at(ground, out(end)) - elevation_at(ground, out(cell))) / (end - cell);
}

} // namespace

void warn_of_falls_to_house(const site::Site& site, Ground& ground) {
  for (const site::Building& building : site.buildings) {
    std::vector<Stretch> stretches(site.areas.size());
    const double turn = signed_area(building.outline) > 0 ? 1 : -1;
    for (std::size_t k = 0; k < building.outline.size(); ++k) {
      const Point a = building.outline[k], b = building.outline[(k + 1) % building.outline.size()];
      const double length = distance(a, b);
      if (!(length > 0)) continue;
      const Point outward{turn * (b.y - a.y) / length, -turn * (b.x - a.x) / length};
      const int places = std::max(1, static_cast<int>(length / along_wall));
      for (int p = 0; p < places; ++p) {
        const double share = (p + 0.5) / places;
        look_out(site, ground, {a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)}, outward,
                 length / places, stretches);
      }
    }
    for (std::size_t k = 0; k < stretches.size(); ++k) {
      const auto& [length, rise] = stretches[k];
      if (length < shortest_stretch || rise < least_fall * length) continue;
      ground.warnings.push_back(
          "\"" + site.areas[k].name + "\" falls " + rounded(100 * rise / length, 2) + " % towards \"" +
          building.name + "\" along " + site::written(length, Dimension::length, site) +
          " of its wall, so the rain on it runs to the wall and stands there or finds a way "
          "in; check its levels, or lead the water away before the wall.");
    }
  }
}

} // namespace lowspot::terrain
