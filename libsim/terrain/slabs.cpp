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
    for (std::size_t c = 0; c < top.size(); ++c)
      if (top[c] == static_cast<int>(a))
        ground.elevation[c] = plane.at(grid.x(grid.column(c)), grid.y(grid.row(c)));
  }
}

} // namespace lowspot::terrain
