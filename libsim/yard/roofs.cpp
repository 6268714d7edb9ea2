#include <lowspot/yard/roofs.hpp>

#include <algorithm>
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

// Where a wall crosses the side of an outline, as a share of its length.
void add_crossing(const Point& a, const Point& b, const Point& c, const Point& d,
                  std::vector<double>& shares) {
  const double wall_x = b.x - a.x, wall_y = b.y - a.y, side_x = d.x - c.x, side_y = d.y - c.y;
  const double turn = wall_x * side_y - wall_y * side_x;
  if (turn == 0) return;
  const double along = ((c.x - a.x) * side_y - (c.y - a.y) * side_x) / turn;
  const double across = ((c.x - a.x) * wall_y - (c.y - a.y) * wall_x) / turn;
  if (along > 0 && along < 1 && across >= 0 && across <= 1) shares.push_back(along);
}

// The share of a building's walls that stands in the yard or on its limit: without downspouts a roof sheds
// over all of them.
double share_of_walls_inside(const Polygon& building, const Polygon& yard) {
  constexpr double on_the_limit = 1e-6; // m
  Polyline limit = yard;
  limit.push_back(yard.front());
  double inside = 0, whole = 0;
  for (std::size_t k = 0; k < building.size(); ++k) {
    const Point &a = building[k], &b = building[(k + 1) % building.size()];
    std::vector<double> shares = {0, 1};
    for (std::size_t side = 1; side < limit.size(); ++side)
      add_crossing(a, b, limit[side - 1], limit[side], shares);
    std::sort(shares.begin(), shares.end());
    for (std::size_t piece = 1; piece < shares.size(); ++piece) {
      const double middle = (shares[piece - 1] + shares[piece]) / 2;
      const Point at{a.x + middle * (b.x - a.x), a.y + middle * (b.y - a.y)};
      const double length_of_piece = (shares[piece] - shares[piece - 1]) * distance(a, b);
      whole += length_of_piece;
      if (contains(yard, at) || distance_to(limit, at) < on_the_limit) inside += length_of_piece;
    }
  }
  return whole > 0 ? inside / whole : 1;
}

// Active cells that touch a building: where a roof without downspouts sheds. One that no cell makes way for,
// being narrower than they are or on the far side of the limit, sheds onto the cells its walls pass.
std::vector<int> foot_of_walls(const terrain::Ground& ground, const terrain::Coverage& building,
                               const Polygon& outline) {
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
  if (!cells.empty()) return cells;
  const double passed = std::sqrt(0.5) - 1e-9; // cells from any place to the nearest middle of one, at most
  Polyline walls = outline;
  walls.push_back(outline.front());
  for (std::size_t c = 0; c < grid.cells(); ++c)
    if (ground.active[c] &&
        distance_to(walls, {grid.x(grid.column(c)), grid.y(grid.row(c))}) <= passed * grid.cell)
      cells.push_back(static_cast<int>(c));
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
      if (best < 0 || gap < nearest - 1e-6 * grid.cell) {
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
      roof.roof_area = area(building.outline) * share_of_walls_inside(building.outline, site.outline);
      roof.cells = foot_of_walls(ground, ground.buildings[b], building.outline);
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
