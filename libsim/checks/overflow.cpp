#include <algorithm>
#include <cmath>
#include <limits>
#include <queue>

#include <lowspot/checks/house.hpp>
#include <lowspot/checks/judge.hpp>
#include <lowspot/site/wording.hpp>
#include <lowspot/terrain/low_spots.hpp>

namespace lowspot::checks {
namespace {
using results::CheckOutcome;
using results::CheckRecord;

// Calls use(neighbour, crest of the wall between) for the four neighbours of a cell.
template <class Use>
void each_neighbour(const terrain::Ground& ground, int cell, Use use) {
  const Grid& grid = ground.grid;
  const int i = grid.column(cell), j = grid.row(cell);
  if (i > 0) use(cell - 1, ground.crest_x[grid.x_face(i, j)]);
  if (i + 1 < grid.nx) use(cell + 1, ground.crest_x[grid.x_face(i + 1, j)]);
  if (j > 0) use(cell - grid.nx, ground.crest_y[grid.y_face(i, j)]);
  if (j + 1 < grid.ny) use(cell + grid.nx, ground.crest_y[grid.y_face(i, j + 1)]);
}

// The cells that water passes which spills from a low spot, with the level it has there, until it leaves the
// yard or falls into another low spot: the lowest way out is always taken first (Barnes et al. 2014), and
// small hollows on it fill.
std::vector<std::pair<int, double>> spill_path(const terrain::Ground& ground, const terrain::LowSpot& spot,
                                               const std::vector<int>& spot_of_cell, const Mask& open_edge) {
  struct Step {
    double level;
    int cell;
    bool operator<(const Step& other) const { return level > other.level; }
  };
  std::vector<std::pair<int, double>> path;
  const long start = cell_at(ground.grid, spot.spill_at.x, spot.spill_at.y);
  if (start < 0 || spot.closed) return path;
  Mask seen(ground.grid.cells(), 0);
  for (const int cell : spot.cells) seen[cell] = 1;
  seen[start] = 1;
  std::priority_queue<Step> next;
  next.push({std::max(spot.spill_level, ground.elevation[start]), static_cast<int>(start)});
  while (!next.empty()) {
    const Step step = next.top();
    next.pop();
    path.emplace_back(step.cell, step.level);
    const int other = spot_of_cell[step.cell];
    if (open_edge[step.cell] || (other != 0 && other != spot.id)) break;
    each_neighbour(ground, step.cell, [&](int neighbour, double crest) {
      if (seen[neighbour] || !ground.active[neighbour]) return;
      seen[neighbour] = 1;
      // Water that runs downhill has the level of the ground; water held back by a wall that of its crest.
      const double ground_level = ground.elevation[neighbour];
      const double level = crest > ground.elevation[step.cell] ? std::max(ground_level, crest) : ground_level;
      next.push({level, neighbour});
    });
  }
  return path;
}

struct AtWall {
  double level = -std::numeric_limits<double>::infinity(); // of the water [m]
  double depth = 0;
  int cell = -1;
  int spot = 0;
  bool pool = false;
};

// Of each building whether ground before it is closed in: nothing that stands there leaves at any level.
std::vector<char> closed_in(const terrain::Ground& ground, const Mask& open_edge,
                            const std::vector<int>& building_of, std::size_t buildings) {
  constexpr double least_court = 1; // m2: less is a nook between cells
  Mask seen(ground.grid.cells(), 0);
  const auto ground_around = [&](std::size_t start) {
    std::vector<int> cells;
    const auto reach = [&](int cell) {
      if (seen[cell] || !ground.active[cell]) return;
      seen[cell] = 1;
      cells.push_back(cell);
    };
    reach(static_cast<int>(start));
    for (std::size_t k = 0; k < cells.size(); ++k)
      each_neighbour(ground, cells[k], [&](int other, double) { reach(other); });
    return cells;
  };
  std::vector<char> shut(buildings, 0);
  for (std::size_t c = 0; c < seen.size(); ++c) {
    const std::vector<int> cells = ground_around(c);
    const bool open = std::any_of(cells.begin(), cells.end(), [&](int cell) { return open_edge[cell] != 0; });
    if (open || static_cast<double>(cells.size()) * ground.grid.cell_area() < least_court) continue;
    for (const int cell : cells)
      each_neighbour(ground, cell, [&](int other, double) {
        if (building_of[other] >= 0) shut[building_of[other]] = 1;
      });
  }
  return shut;
}

} // namespace

void check_overflow(const site::Site& site, const terrain::Ground& ground, std::vector<CheckRecord>& list) {
  if (site.buildings.empty()) return;
  const std::vector<terrain::LowSpot> spots = terrain::find_low_spots(ground);
  std::vector<int> spot_of_cell(ground.grid.cells(), 0), building_of(ground.grid.cells(), -1);
  for (const terrain::LowSpot& spot : spots)
    for (const int cell : spot.cells) spot_of_cell[cell] = spot.id;
  for (std::size_t b = 0; b < ground.buildings.size(); ++b)
    for (const int cell : ground.buildings[b].cells) building_of[cell] = static_cast<int>(b);
  Mask open_edge(ground.grid.cells(), 0);
  for (const terrain::EdgeFace& face : ground.edges)
    if (face.open) open_edge[face.cell] = 1;
  const std::vector<char> shut = closed_in(ground, open_edge, building_of, site.buildings.size());
  std::vector<AtWall> worst(site.buildings.size());
  const auto touch = [&](int cell, double level, int spot, bool pool) {
    const auto meet = [&](int other) {
      const int b = building_of[other];
      if (b < 0) return;
      AtWall& at = worst[b];
      if (level <= at.level) return;
      at = {level, std::max(0.0, level - ground.elevation[cell]), cell, spot, pool};
    };
    meet(cell);
    each_neighbour(ground, cell, [&](int other, double) { meet(other); });
  };
  for (const terrain::LowSpot& spot : spots) {
    for (const int cell : spot.cells) touch(cell, spot.spill_level, spot.id, true);
    for (const auto& [cell, level] : spill_path(ground, spot, spot_of_cell, open_edge))
      touch(cell, level, spot.id, false);
  }
  for (std::size_t b = 0; b < site.buildings.size(); ++b) {
    const site::Building& building = site.buildings[b];
    CheckRecord record;
    record.id = "overflow";
    record.name = "Where water goes when the drain is blocked";
    record.about = building.name;
    record.limit = "below the floor";
    record.source = "no water in the house, whatever the drain does";
    record.mark = "default";
    record.limit_value = building.floor;
    record.of_works = false;
    const AtWall& at = worst[b];
    if (shut[b]) {
      record.outcome = CheckOutcome::unknown;
      record.found =
          "the ground at its wall is closed in on all sides: nothing leaves it, however high it stands";
      record.missing =
          "where its water goes: leave a side of the yard open where it can run out, and shoot the "
          "ground there; where there is none, a drain is the only way out";
    } else if (at.cell < 0) {
      record.outcome = CheckOutcome::pass;
      record.found = "low spots that fill and spill keep away from its walls";
    } else {
      const Grid& grid = ground.grid;
      const Point place{grid.x(grid.column(at.cell)), grid.y(grid.row(at.cell))};
      record.found_value = at.level;
      record.found = at.pool ? "low spot " + std::to_string(at.spot) + ", full to its brim, stands " +
                                   length_text(at.depth, site) + " deep against its wall at " +
                                   site::written(place, site)
                             : "what spills from low spot " + std::to_string(at.spot) +
                                   " runs along its wall at " + site::written(place, site);
      if (std::isnan(building.floor)) {
        record.outcome = CheckOutcome::unknown;
        record.missing =
            "how high the lowest place lies where water could get in (door sill, vent, window well): "
            "shoot it, and put it in the file as floor";
      } else {
        const double free = building.floor - at.level;
        record.outcome = free > 0 ? CheckOutcome::pass : CheckOutcome::fail;
        record.found += free > 0 ? "; the floor lies " + length_text(free, site) + " higher"
                                 : "; the floor lies " + length_text(-free, site) + " lower: it gets in";
      }
    }
    list.push_back(std::move(record));
  }
}

} // namespace lowspot::checks
