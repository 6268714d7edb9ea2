#include <lowspot/terrain/natural_ground.hpp>

#include <cmath>
#include <limits>

#include <lowspot/terrain/holes.hpp>
#include <lowspot/terrain/yard_grid.hpp>

namespace lowspot::terrain {
namespace {

// The slab that lies on top in each cell, as a place in the site's areas; -1: none.
std::vector<int> slab_of_cells(const site::Site& site, const Ground& ground) {
  std::vector<int> slab(ground.grid.cells(), -1);
  for (std::size_t a = 0; a < site.areas.size(); ++a) {
    const bool is_slab = site.areas[a].impervious && site.areas[a].surface.size() >= 3;
    const Mask inside = centres_inside(ground.grid, site.areas[a].outline);
    for (std::size_t c = 0; c < slab.size(); ++c)
      if (inside[c] && ground.active[c]) slab[c] = is_slab ? static_cast<int>(a) : -1;
  }
  return slab;
}

} // namespace

void find_natural_ground(const site::Site& site, Ground& ground) {
  const std::size_t cells = ground.grid.cells();
  ground.natural_elevation = ground.elevation;
  ground.slab_thickness.assign(cells, 0.0);
  ground.base_depth.assign(cells, 0.0);
  const std::vector<int> slab = slab_of_cells(site, ground);
  bool any = false;
  Field skin = ground.elevation;
  for (std::size_t c = 0; c < cells; ++c) {
    any = any || slab[c] >= 0;
    if (slab[c] >= 0 || !ground.active[c]) skin[c] = std::numeric_limits<double>::quiet_NaN();
  }
  if (!any || fill_holes(skin, ground.grid.nx, ground.grid.ny) == 0) return;
  for (std::size_t c = 0; c < cells; ++c) {
    if (slab[c] < 0) continue;
    ground.natural_elevation[c] = skin[c];
    ground.slab_thickness[c] = site.areas[slab[c]].slab_thickness;
    ground.base_depth[c] = site.areas[slab[c]].base_depth;
  }
}

} // namespace lowspot::terrain
