#include <lowspot/yard/roofs.hpp>

#include <cmath>

#include <lowspot/base/error.hpp>
#include <lowspot/yard/intake_layout.hpp>

namespace lowspot::yard {
namespace {

// The tap of the drain that a downspout is tied to, or -1.
int tap_of(const drain::Drain& drain, const std::string& downspout) {
  const std::vector<drain::Tap>& taps = drain.layout().taps;
  for (std::size_t k = 0; k < taps.size(); ++k)
    if (taps[k].name == downspout) return static_cast<int>(k);
  return -1;
}

// Active cells that touch a building: where a roof without downspouts sheds.
std::vector<int> foot_of_walls(const terrain::Ground& ground, const terrain::Coverage& building) {
  const Grid& grid = ground.grid;
  std::vector<int> cells;
  Mask seen(grid.cells(), 0);
  for (int cell : building.cells) {
    if (ground.active[cell]) continue;
    const int i = grid.column(cell), j = grid.row(cell);
    for (const auto& [di, dj] : {std::pair{1, 0}, {-1, 0}, {0, 1}, {0, -1}}) {
      if (!grid.inside(i + di, j + dj)) continue;
      const std::size_t beside = grid.index(i + di, j + dj);
      if (!ground.active[beside] || seen[beside]) continue;
      seen[beside] = 1;
      cells.push_back(static_cast<int>(beside));
    }
  }
  return cells;
}

} // namespace

int nearest_active_cell(const terrain::Ground& ground, const Point& at, const std::string& what) {
  const Grid& grid = ground.grid;
  const int ci = static_cast<int>(std::floor((at.x - grid.x0) / grid.cell));
  const int cj = static_cast<int>(std::floor((at.y - grid.y0) / grid.cell));
  const int reach = std::max(4, static_cast<int>(std::ceil(2.0 / grid.cell)));
  int best = -1;
  double nearest = 0;
  for (int j = cj - reach; j <= cj + reach; ++j)
    for (int i = ci - reach; i <= ci + reach; ++i) {
      if (!grid.inside(i, j) || !ground.active[grid.index(i, j)]) continue;
      const double gap = distance({grid.x(i), grid.y(j)}, at);
      if (best < 0 || gap < nearest - 1e-12) {
        best = static_cast<int>(grid.index(i, j));
        nearest = gap;
      }
    }
  if (best < 0)
    throw InputError({"", 0, what}, "a place with no open ground within 2 m",
                     "a place in the yard, outside buildings", "move it onto open ground");
  return best;
}

std::vector<RoofDischarge> route_roofs(const site::Site& site, const terrain::Ground& ground,
                                       const site::Design* design, const drain::Drain* drain) {
  std::vector<RoofDischarge> roofs;
  for (std::size_t b = 0; b < site.buildings.size(); ++b) {
    const site::Building& building = site.buildings[b];
    if (building.downspouts.empty()) {
      RoofDischarge roof;
      roof.name = building.name + ", eaves";
      roof.roof_area = area(building.outline);
      roof.cells = foot_of_walls(ground, ground.buildings[b]);
      if (!roof.cells.empty()) roofs.push_back(roof);
      continue;
    }
    for (const site::Downspout& spout : building.downspouts) {
      RoofDischarge roof;
      roof.name = building.name + ", " + spout.name;
      roof.roof_area = spout.roof_area;
      const std::string to = destination(design, spout);
      if (to != "ground" && drain) roof.tap = tap_of(*drain, spout.name);
      // As it is there is no drain yet: a downspout meant for one runs onto the ground.
      if (roof.tap < 0)
        roof.cells = {nearest_active_cell(ground, spout.at,
                                          "downspout '" + spout.name + "' of '" + building.name + "'")};
      roofs.push_back(roof);
    }
  }
  return roofs;
}

} // namespace lowspot::yard
