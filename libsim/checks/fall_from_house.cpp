#include <algorithm>
#include <array>
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
  double slope = 0; // m/m, positive away from the wall
};
// From a place on a wall outward: of open ground, and of paving.
using Falls = std::array<Fall, 2>;

bool open_ground(const terrain::Ground& ground, const Point& at) {
  const long cell = cell_at(ground.grid, at.x, at.y);
  return cell >= 0 && ground.active[cell];
}

// The falls from a place on a wall outward, over `reach` [m] or as far as there is ground: each of the
// longest stretch of its kind, so that a bed before a terrace and a step between them have no part in the
// terrace's.
Falls falls_at(const terrain::Ground& ground, const Point& wall, double nx, double ny, double reach) {
  struct Stretch {
    double from = 0, to = 0;                      // m from the wall
    bool kind_before = false, kind_after = false; // it borders on the other kind there
    bool paved = false;
    double length() const { return to - from; }
  };
  const double cell = ground.grid.cell;
  const auto out = [&](double d) { return Point{wall.x + d * nx, wall.y + d * ny}; };
  std::vector<Stretch> stretches;
  // One cell out, so that no ground under the building has a part in the elevation.
  for (double d = cell; d <= reach + 1e-9; d += 0.5 * cell) {
    if (!open_ground(ground, out(d))) break;
    const bool paved = ground.pervious[cell_at(ground.grid, out(d).x, out(d).y)] < 0.5;
    if (stretches.empty() || stretches.back().paved != paved) {
      if (!stretches.empty()) stretches.back().kind_after = true;
      stretches.push_back({d, d, !stretches.empty(), false, paved});
    }
    stretches.back().to = d;
  }
  Falls falls;
  for (const bool paved : {false, true}) {
    const Stretch* longest = nullptr;
    for (const Stretch& one : stretches)
      if (one.paved == paved && (!longest || one.length() > longest->length())) longest = &one;
    if (!longest || longest->length() < least_walk - 0.5 * cell) continue;
    // Half a cell in from the other kind, which has a part in the elevation at the border.
    const double from = longest->from + (longest->kind_before ? 0.5 * cell : 0);
    const double to = longest->to - (longest->kind_after ? 0.5 * cell : 0);
    if (!(to > from)) continue;
    falls[paved] = {true,
                    (terrain::elevation_at(ground, out(from)) - terrain::elevation_at(ground, out(to))) /
                        (to - from)};
  }
  return falls;
}

struct Worst {
  double slope = std::numeric_limits<double>::infinity();
  Point at;
  int places = 0, kept = 0;
};

void report(const site::Site& site, const site::Building& building, bool paved, const Worst& worst,
            std::vector<CheckRecord>& list) {
  if (worst.places == 0) return;
  const auto nearest_tenth = [&](const Point& at) { // nobody finds a place on a wall any closer
    const double step = 0.1 * site.unit;
    return Point{std::round(at.x / step) * step, std::round(at.y / step) * step};
  };
  const std::string limit = paved ? "house_fall_paved" : "house_fall";
  CheckRecord record =
      item(site, limit, limit,
           paved ? "Paving falls away from the house" : "Ground falls away from the house", building.name);
  judge(record, site, limit, worst.slope,
        " at " + site::written(nearest_tenth(worst.at), site) +
            (worst.slope <= -least_slope ? ", towards the house" : ", where it falls least") + "; " +
            std::to_string(static_cast<int>(100.0 * worst.kept / worst.places)) +
            " % of the wall there keeps it");
  record.of_works = false;
  list.push_back(std::move(record));
}

// Walls with less ground before them than a fall is judged by are not said to be in order.
void say_unknown(const site::Site& site, const site::Building& building, double reach,
                 std::vector<CheckRecord>& list) {
  CheckRecord record =
      item(site, "house_fall", "house_fall", "Ground falls away from the house", building.name);
  record.outcome = results::CheckOutcome::unknown;
  record.found = "less than " + length_text(least_walk, site) + " of ground is in the file outside its walls";
  record.missing = "how the ground lies out to " + length_text(reach, site) +
                   " from the walls: shoot it, and draw the limit of the yard as far out";
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
        const Falls falls = falls_at(ground, at, nx, ny, reach);
        for (const bool paved : {false, true}) {
          const Fall& fall = falls[paved];
          if (!fall.known) continue;
          Worst& kind = worst[paved];
          const double limit = limit_value(site, paved ? "house_fall_paved" : "house_fall");
          ++kind.places;
          if (fall.slope >= limit - 1e-9) ++kind.kept;
          if (fall.slope < kind.slope) kind.slope = fall.slope, kind.at = at;
        }
      }
    }
    report(site, building, false, worst[0], list);
    report(site, building, true, worst[1], list);
    if (worst[0].places + worst[1].places == 0) say_unknown(site, building, reach, list);
  }
}

} // namespace lowspot::checks
