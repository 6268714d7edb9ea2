#include <lowspot/terrain/slabs.hpp>

#include <algorithm>
#include <cmath>
#include <optional>

#include <lowspot/base/error.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/terrain/plane.hpp>
#include <lowspot/terrain/yard_grid.hpp>

namespace lowspot::terrain {
namespace {

Plane slab_of(const site::Site& site, const site::Area& area, std::vector<std::string>& warnings) {
  const std::optional<Plane> plane = fit_plane(area.surface);
  if (!plane)
    throw InputError({site.file.string(), area.line, "area.surface"},
                     "shots of \"" + area.name + "\" on one line", "three shots that span a plane",
                     "shoot a third corner");
  double worst = 0;
  for (const Point3& shot : area.surface)
    worst = std::max(worst, std::abs(shot.z - plane->at(shot.x, shot.y)));
  if (worst > 0.0127)
    warnings.push_back("\"" + area.name + "\": a surface shot lies " + rounded(worst / 0.0254, 2) +
                       " in off the plane through all; the slab is bent or a shot is wrong.");
  return *plane;
}

// A slab stands out of its yard by a step or two, not by more than a man's reach.
void warn_of_datum(const site::Site& site, const site::Area& area, double farthest,
                   std::vector<std::string>& warnings) {
  constexpr double farthest_usual = 1.5; // m
  if (std::abs(farthest) <= farthest_usual) return;
  const bool feet = site.units == "ft";
  warnings.push_back("\"" + area.name + "\": its `surface` lies up to " +
                     rounded(std::abs(farthest) / site.unit, 3) + (feet ? " ft" : " m") +
                     (farthest > 0 ? " above" : " below") +
                     " the ground shot there, which would be a cliff; both must be in " + site.units +
                     " and count from one benchmark.");
}

} // namespace

void lay_slabs(const site::Site& site, Ground& ground) {
  const Grid& grid = ground.grid;
  std::vector<int> top(grid.cells(), -1); // the area at the cell's centre that lies over all others
  for (std::size_t a = 0; a < site.areas.size(); ++a) {
    const Mask inside = centres_inside(grid, site.areas[a].outline);
    for (std::size_t c = 0; c < top.size(); ++c)
      if (inside[c]) top[c] = static_cast<int>(a);
  }
  for (std::size_t a = 0; a < site.areas.size(); ++a) {
    if (site.areas[a].surface.size() < 3) continue;
    const Plane plane = slab_of(site, site.areas[a], ground.warnings);
    double farthest = 0; // of the slab from the ground as it was shot [m]
    for (std::size_t c = 0; c < top.size(); ++c)
      if (top[c] == static_cast<int>(a)) {
        const double slab = plane.at(grid.x(grid.column(c)), grid.y(grid.row(c)));
        if (std::abs(slab - ground.elevation[c]) > std::abs(farthest)) farthest = slab - ground.elevation[c];
        ground.elevation[c] = slab;
      }
    warn_of_datum(site, site.areas[a], farthest, ground.warnings);
  }
}

std::vector<int> slabs_of(const site::Site& site, const Grid& grid) {
  std::vector<int> slab(grid.cells(), -1);
  for (std::size_t a = 0; a < site.areas.size(); ++a) {
    const Mask inside = centres_inside(grid, site.areas[a].outline);
    for (std::size_t c = 0; c < slab.size(); ++c)
      if (inside[c]) slab[c] = site.areas[a].impervious ? static_cast<int>(a) : -1;
  }
  return slab;
}

} // namespace lowspot::terrain
