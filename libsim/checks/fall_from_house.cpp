#include <algorithm>
#include <cmath>
#include <limits>

#include <lowspot/checks/house.hpp>
#include <lowspot/checks/judge.hpp>
#include <lowspot/site/wording.hpp>

namespace lowspot::checks {
namespace {
using results::CheckRecord;

constexpr double along_wall = 0.1524; // m between places along a wall
constexpr double least_walk = 0.9144; // m of ground outside a wall to judge a fall by

struct Fall {
  bool known = false;
  bool paved = false;
  double slope = 0; // m/m, positive away from the wall
};

bool open_ground(const terrain::Ground& ground, const Point& at) {
  const long cell = cell_at(ground.grid, at.x, at.y);
  return cell >= 0 && ground.active[cell];
}

// The fall of the ground from a place on a wall outward, over `reach` [m] or as far as there is ground.
Fall fall_at(const terrain::Ground& ground, const Point& wall, double nx, double ny, double reach) {
  const double cell = ground.grid.cell;
  const auto out = [&](double d) { return Point{wall.x + d * nx, wall.y + d * ny}; };
  // One cell out, so that no ground under the building has a part in the elevation.
  double end = cell;
  int paved = 0, counted = 0;
  for (double d = cell; d <= reach + 1e-9; d += 0.5 * cell) {
    if (!open_ground(ground, out(d))) break;
    end = d;
    ++counted;
    if (ground.pervious[cell_at(ground.grid, out(d).x, out(d).y)] < 0.5) ++paved;
  }
  Fall fall;
  if (end - cell < least_walk - 0.5 * cell) return fall;
  fall.known = true;
  fall.paved = 2 * paved > counted;
  fall.slope =
      (terrain::elevation_at(ground, out(cell)) - terrain::elevation_at(ground, out(end))) / (end - cell);
  return fall;
}

struct Worst {
  double slope = std::numeric_limits<double>::infinity();
  Point at;
  int places = 0, kept = 0;
};

void report(const site::Site& site, const site::Building& building, bool paved, const Worst& worst,
            std::vector<CheckRecord>& list) {
  if (worst.places == 0) return;
  const std::string limit = paved ? "house_fall_paved" : "house_fall";
  CheckRecord record =
      item(site, limit, limit,
           paved ? "Paving falls away from the house" : "Ground falls away from the house", building.name);
  judge(record, site, limit, worst.slope,
        " at " + site::written(worst.at, site) +
            (worst.slope < 0 ? ", towards the house" : ", where it falls least") + "; " +
            std::to_string(static_cast<int>(100.0 * worst.kept / worst.places)) +
            " % of the wall there keeps it");
  record.of_works = false;
  list.push_back(std::move(record));
}

} // namespace

void check_fall_from_house(const site::Site& site, const terrain::Ground& ground,
                           std::vector<CheckRecord>& list) {
  const double reach = limit_value(site, "house_fall_distance");
  if (std::isnan(reach)) return;
  for (const site::Building& building : site.buildings) {
    Worst worst[2];
    const double turn = signed_area(building.outline) > 0 ? 1 : -1;
    const std::size_t count = building.outline.size();
    for (std::size_t k = 0; k < count; ++k) {
      const Point a = building.outline[k], b = building.outline[(k + 1) % count];
      const double length = distance(a, b);
      const double nx = turn * (b.y - a.y) / length, ny = -turn * (b.x - a.x) / length;
      const int places = std::max(1, static_cast<int>(length / along_wall));
      for (int p = 0; p < places; ++p) {
        const double share = (p + 0.5) / places;
        const Point at{a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)};
        const Fall fall = fall_at(ground, at, nx, ny, reach);
        if (!fall.known) continue;
        Worst& kind = worst[fall.paved];
        const double limit = limit_value(site, fall.paved ? "house_fall_paved" : "house_fall");
        ++kind.places;
        if (fall.slope >= limit - 1e-9) ++kind.kept;
        if (fall.slope < kind.slope) kind.slope = fall.slope, kind.at = at;
      }
    }
    report(site, building, false, worst[0], list);
    report(site, building, true, worst[1], list);
  }
}

} // namespace lowspot::checks
