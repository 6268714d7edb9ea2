#include <lowspot/yard/trench.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/drain/own_plan.hpp>
#include <lowspot/yard/trench_cut.hpp>

namespace lowspot::yard {
namespace {
// The trench of a station: a rectangle for each straight piece of its run, so that at a bend what two share
// on its inside makes up for what both leave out on its outside.
std::vector<Polygon> footprint(const drain::Station& station, const Polyline& path) {
  const double from = station.distance - station.length / 2, to = from + station.length;
  std::vector<Polygon> pieces;
  double passed = 0;
  for (std::size_t k = 1; k < path.size(); ++k) {
    const double whole = distance(path[k - 1], path[k]);
    const double begins = std::max(from - passed, 0.0), ends = std::min(to - passed, whole);
    passed += whole;
    if (!(ends > begins)) continue;
    const Point along{(path[k].x - path[k - 1].x) / whole, (path[k].y - path[k - 1].y) / whole};
    const Point a{path[k - 1].x + begins * along.x, path[k - 1].y + begins * along.y};
    const Point b{path[k - 1].x + ends * along.x, path[k - 1].y + ends * along.y};
    const double side = station.trench_width / 2;
    const Point across{-along.y * side, along.x * side};
    pieces.push_back({{a.x - across.x, a.y - across.y},
                      {b.x - across.x, b.y - across.y},
                      {b.x + across.x, b.y + across.y},
                      {a.x + across.x, a.y + across.y}});
  }
  return pieces;
}

void add_cells_under(const terrain::Ground& ground, const Polygon& shape, std::vector<CellShare>& shares) {
  const Grid& grid = ground.grid;
  const Box box = bounds(shape);
  const int i_low = std::max(0, static_cast<int>(std::floor((box.low.x - grid.x0) / grid.cell)));
  const int i_high = std::min(grid.nx - 1, static_cast<int>(std::floor((box.high.x - grid.x0) / grid.cell)));
  const int j_low = std::max(0, static_cast<int>(std::floor((box.low.y - grid.y0) / grid.cell)));
  const int j_high = std::min(grid.ny - 1, static_cast<int>(std::floor((box.high.y - grid.y0) / grid.cell)));
  for (int j = j_low; j <= j_high; ++j)
    for (int i = i_low; i <= i_high; ++i) {
      const std::size_t cell = grid.index(i, j);
      if (!ground.active[cell]) continue;
      const double west = grid.x0 + i * grid.cell, south = grid.y0 + j * grid.cell;
      const double shared = overlap_area(shape, {{west, south}, {west + grid.cell, south + grid.cell}});
      if (!(shared > 1e-9)) continue;
      const auto known = std::find_if(shares.begin(), shares.end(), [&](const CellShare& one) {
        return one.cell == static_cast<int>(cell);
      });
      if (known == shares.end())
        shares.push_back({static_cast<int>(cell), shared});
      else
        known->area += shared;
    }
}

// Adds a share to the contact of a station with a cell, and what it has of the fabric.
void add_contact(std::vector<WallContact>& contacts, int station, int cell, double share, double gap,
                 double fabric) {
  for (auto known = contacts.rbegin(); known != contacts.rend() && known->station == station; ++known) {
    if (known->cell != cell) continue;
    known->distance = (known->distance * known->share + gap * share) / (known->share + share);
    known->share += share;
    known->fabric += fabric;
    return;
  }
  contacts.push_back({station, cell, share, gap, fabric});
}

// A place on a wall, and the direction out of the trench there.
struct Wall {
  Point at, out;
  double half_width = 0; // m, of the trench
  double bottom = 0;     // elevation [m]
};

// Contacts of a piece of wall, `share` of both walls of the station.
void meet_wall(std::vector<WallContact>& contacts, const terrain::Ground& ground, int station,
               const Wall& wall, double share, const perched::Layer& layer) {
  const Grid& grid = ground.grid;
  const auto column_at = [&](double distance) {
    const long cell = cell_at(grid, wall.at.x + wall.out.x * distance, wall.at.y + wall.out.y * distance);
    return cell >= 0 && ground.active[cell] ? static_cast<int>(cell) : -1;
  };
  const int own = column_at(1e-9);
  const int next = column_at(grid.cell * (std::abs(wall.out.x) + std::abs(wall.out.y)));
  const auto beyond = [&](int cell) { // the wall
    return (grid.x(grid.column(cell)) - wall.at.x) * wall.out.x +
           (grid.y(grid.row(cell)) - wall.at.y) * wall.out.y;
  };
  // A column whose middle lies on the other side of a trench that cuts it is that side's soil, and trades
  // with the wall there.
  const bool of_other_side = own >= 0 && beyond(own) + wall.half_width < -1e-9 * grid.cell &&
                             reaches_tight_layer(wall.bottom, layer, own, next >= 0 ? next : own);
  if (next < 0 || next == own) {
    if (own >= 0 && !of_other_side) add_contact(contacts, station, own, share, grid.cell / 2, share);
    return;
  }
  const double gap = std::max(beyond(next), grid.cell / 2);
  const bool through_own = own >= 0 && !(beyond(own) + wall.half_width <= 1e-9 * grid.cell &&
                                         reaches_tight_layer(wall.bottom, layer, own, next));
  // By way of the own column: half a cell to the wall, a cell between the columns.
  const double direct = through_own ? 1 - gap / (1.5 * grid.cell) : 1;
  // Both ways end at the same fabric, each with as much of it as of the water where their levels are the
  // same.
  const double by_own = own >= 0 && !of_other_side ? 2 / grid.cell : 0,
               by_next = direct > 1e-9 ? direct / gap : 0;
  const double fabric = share / (by_own + by_next);
  if (by_own > 0) add_contact(contacts, station, own, share, grid.cell / 2, by_own * fabric);
  if (by_next > 0) add_contact(contacts, station, next, direct * share, gap, by_next * fabric);
}

// A column on the middle line of a trench as wide as a cell is cut off on both sides: what is in it falls
// into the trench.
void drain_middle(std::vector<WallContact>& contacts, const terrain::Ground& ground, int station,
                  const Wall& middle, double share, const perched::Layer& layer) {
  const Grid& grid = ground.grid;
  const long under = cell_at(grid, middle.at.x, middle.at.y);
  if (under < 0 || !ground.active[under] || middle.half_width < grid.cell / 2 * (1 - 1e-9)) return;
  const double off = (grid.x(grid.column(under)) - middle.at.x) * middle.out.x +
                     (grid.y(grid.row(under)) - middle.at.y) * middle.out.y;
  if (std::abs(off) <= 1e-9 * grid.cell && reaches_tight_layer(middle.bottom, layer, under, under))
    add_contact(contacts, station, static_cast<int>(under), share, grid.cell / 2, share);
}
} // namespace

std::vector<WallContact> find_wall_contacts(const terrain::Ground& ground,
                                            const std::vector<drain::Station>& stations,
                                            const drain::Layout& layout, const perched::Layer& layer) {
  const Grid& grid = ground.grid;
  std::vector<WallContact> contacts;
  for (std::size_t s = 0; s < stations.size(); ++s) {
    const drain::Station& station = stations[s];
    if (station.trench_width <= 0) continue;
    const Polyline& path = layout.runs[station.run].path;
    const int samples = std::max(2, static_cast<int>(std::ceil(4 * station.length / grid.cell)));
    for (int k = 0; k < samples; ++k) {
      const double along = station.distance + station.length * ((k + 0.5) / samples - 0.5);
      const Point middle = point_along(path, along);
      const Point a = point_along(path, along - 0.01), b = point_along(path, along + 0.01);
      const double span = distance(a, b);
      if (span <= 0) continue;
      const Point across{-(b.y - a.y) / span, (b.x - a.x) / span};
      const double half = station.trench_width / 2;
      drain_middle(contacts, ground, static_cast<int>(s), {middle, across, half, station.trench_bottom},
                   1.0 / samples, layer);
      for (const double side : {-1.0, 1.0}) {
        const Point out{side * across.x, side * across.y};
        const Point at{middle.x + out.x * half, middle.y + out.y * half};
        if (drain::in_pit(layout, at) || drain::other_trenches(layout, station.run, at) > 0) continue;
        meet_wall(contacts, ground, static_cast<int>(s), {at, out, half, station.trench_bottom},
                  0.5 / samples, layer);
      }
    }
  }
  return contacts;
}

TrenchCover cover_trenches(const terrain::Ground& ground, const std::vector<drain::Station>& stations,
                           const drain::Layout& layout) {
  TrenchCover cover;
  cover.stations.resize(stations.size());
  cover.area.assign(stations.size(), 0.0);
  cover.share.assign(ground.grid.cells(), 0.0);
  for (std::size_t s = 0; s < stations.size(); ++s) {
    if (stations[s].trench_width <= 0) continue;
    for (const Polygon& piece : footprint(stations[s], layout.runs[stations[s].run].path))
      add_cells_under(ground, piece, cover.stations[s]);
    for (CellShare& part : cover.stations[s]) {
      part.area *= stations[s].own;
      cover.area[s] += part.area;
      double& share = cover.share[part.cell];
      share = std::min(1.0, share + part.area / ground.grid.cell_area());
    }
  }
  return cover;
}

} // namespace lowspot::yard
