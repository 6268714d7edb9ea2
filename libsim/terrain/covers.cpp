#include <lowspot/terrain/covers.hpp>

#include <algorithm>

#include <lowspot/terrain/coverage.hpp>

namespace lowspot::terrain {
namespace {

void add_weighted(Ground& ground, std::size_t cell, const site::Area& area, double weight) {
  ground.manning_n[cell] += weight * area.manning_n;
  ground.manning_n_deep[cell] += weight * area.manning_n_deep;
  ground.vegetation_height[cell] += weight * area.vegetation_height;
  ground.depression_storage[cell] += weight * area.depression_storage;
  ground.interception[cell] += weight * area.interception;
}

} // namespace

void lay_covers(const site::Site& site, Ground& ground) {
  std::vector<Polygon> outlines;
  for (const site::Area& area : site.areas) outlines.push_back(area.outline);
  outlines.push_back(outside_of(site.outline, ground.grid));
  for (const site::Building& building : site.buildings) outlines.push_back(building.outline);
  std::vector<Coverage> visible = visible_coverage(ground.grid, outlines);
  const auto beyond = visible.begin() + static_cast<long>(site.areas.size());
  ground.areas.assign(visible.begin(), beyond);
  ground.beyond = *beyond;
  ground.buildings.assign(beyond + 1, visible.end());

  const std::size_t cells = ground.grid.cells();
  for (Field* field :
       {&ground.manning_n, &ground.manning_n_deep, &ground.vegetation_height, &ground.depression_storage,
        &ground.interception, &ground.pervious, &ground.jointed, &ground.joint_intake})
    field->assign(cells, 0);
  Field inside(cells, 1); // of the outline; buildings that reach out count with it
  for (std::size_t k = 0; k < ground.beyond.cells.size(); ++k)
    inside[ground.beyond.cells[k]] -= ground.beyond.fractions[k];
  for (double& share : inside)
    if (share < 1e-12) share = 0;
  Field open_share = inside; // not under a building
  for (const Coverage& building : ground.buildings)
    for (std::size_t k = 0; k < building.cells.size(); ++k)
      open_share[building.cells[k]] -= building.fractions[k];
  for (double& share : open_share)
    if (share < 1e-12) share = 0;

  constexpr double same = 1e-6; // of a cell: shares that only round-off parts
  Field lawn_share = open_share;
  // Shares of each soil, for the largest; few soils, so one field each.
  std::vector<Field> soil_share(std::max<std::size_t>(1, site.soils.size()), Field(cells, 0));
  Field largest(cells, 0);
  ground.cover.assign(cells, -1);
  for (std::size_t a = 0; a < site.areas.size(); ++a) {
    const site::Area& area = site.areas[a];
    for (std::size_t k = 0; k < ground.areas[a].cells.size(); ++k) {
      const int cell = ground.areas[a].cells[k];
      const double share = ground.areas[a].fractions[k];
      lawn_share[cell] -= share;
      if (open_share[cell] > 0) add_weighted(ground, cell, area, share / open_share[cell]);
      if (!area.impervious) ground.pervious[cell] += share;
      if (area.impervious && area.joint_share > 0) {
        ground.jointed[cell] += share;
        ground.joint_intake[cell] += share * area.joint_share * area.joint_conductivity;
      }
      soil_share[area.soil][cell] += share;
      if (share >= largest[cell] - same) { // of equal shares the later one, which lies on top
        largest[cell] = share;
        ground.cover[cell] = static_cast<int>(a);
      }
    }
  }
  ground.soil.assign(cells, site.lawn.soil);
  for (std::size_t cell = 0; cell < cells; ++cell) {
    const double share = std::max(0.0, lawn_share[cell]);
    add_weighted(ground, cell, site.lawn, open_share[cell] > 0 ? share / open_share[cell] : 1);
    if (!site.lawn.impervious) ground.pervious[cell] += share;
    if (share > largest[cell] + same) ground.cover[cell] = -1;
    // A cell on the limit is ground as a whole but for its part under a building: what lies beyond the limit
    // of it is like what lies within.
    const double outside = 1 - inside[cell];
    for (Field* field : {&ground.pervious, &ground.jointed, &ground.joint_intake})
      if (outside > 0 && open_share[cell] > 0)
        (*field)[cell] *= (open_share[cell] + outside) / open_share[cell];
    ground.pervious[cell] = std::clamp(ground.pervious[cell], 0.0, 1.0);
    soil_share[site.lawn.soil][cell] += share;
    for (std::size_t s = 0; s < soil_share.size(); ++s)
      if (soil_share[s][cell] > soil_share[ground.soil[cell]][cell] + same)
        ground.soil[cell] = static_cast<int>(s);
  }
}

} // namespace lowspot::terrain
