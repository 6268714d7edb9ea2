#include <lowspot/yard/roofs.hpp>

#include <cmath>

#include <lowspot/base/error.hpp>

namespace lowspot::yard {
namespace {

// The station of a run, or of the run that starts at a fitting, nearest to a point.
int station_for(const drain::Drain& drain, const std::string& name, const Point& at) {
  int best = -1;
  double nearest = 0;
  const std::vector<drain::Station>& stations = drain.stations();
  for (std::size_t s = 0; s < stations.size(); ++s) {
    const drain::Run& run = drain.layout().runs[stations[s].run];
    if (run.name != name && run.from != name && run.to != name) continue;
    const double gap = distance(stations[s].at, at);
    if (best < 0 || gap < nearest) {
      best = static_cast<int>(s);
      nearest = gap;
    }
  }
  return best;
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

std::string destination(const site::Design* design, const site::Downspout& spout) {
  if (design)
    for (const site::DownspoutChange& change : design->downspouts)
      if (change.downspout == spout.name) return change.to;
  return spout.to;
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
      if (to != "ground" && drain) roof.station = station_for(*drain, to, spout.at);
      // As it is there is no drain yet: a downspout meant for one runs onto the ground.
      if (roof.station < 0)
        roof.cells = {nearest_active_cell(ground, spout.at,
                                          "downspout '" + spout.name + "' of '" + building.name + "'")};
      roofs.push_back(roof);
    }
  }
  return roofs;
}

} // namespace lowspot::yard
