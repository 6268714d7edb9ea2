#include <lowspot/study/outlets.hpp>

#include <algorithm>
#include <cmath>
#include <map>

#include <lowspot/base/error.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/checks/works.hpp>
#include <lowspot/site/crossings.hpp>
#include <lowspot/site/wording.hpp>
#include <lowspot/study/reach_ground.hpp>

namespace lowspot::study {
namespace {

const char* side_name(terrain::Side side) {
  switch (side) {
  case terrain::Side::west:
    return "west edge";
  case terrain::Side::east:
    return "east edge";
  case terrain::Side::south:
    return "south edge";
  case terrain::Side::north:
    return "north edge";
  }
  return "";
}

Point middle(const Grid& grid, std::size_t cell) {
  return {grid.x(grid.column(cell)), grid.y(grid.row(cell))};
}

// The lot line over which a pipe that ends at the edge of the yard gives its water: none at a candidate,
// which somebody has named as a place to end.
const site::KeepOff* lot_line_at(const site::Site& site, const OutletPlace& place, const Point& end,
                                 double cell) {
  if (place.kind != "edge") return nullptr;
  for (const site::KeepOff& each : site.keep_offs)
    if (each.kind == "lot line" && checks::distance_to_shape(each, end) <= 1.5 * cell) return &each;
  return nullptr;
}

OutletRoute as_route(const site::Site& site, const OutletPlace& place, const ReachWay& way, double cell) {
  OutletRoute route;
  route.outlet = place.name;
  route.kind = place.kind;
  route.reach = way.reach;
  if (way.way.empty()) return route;
  const PipeProfile& profile = way.profile;
  route.path = way.way;
  route.distance = profile.distance;
  route.ground = profile.ground;
  route.invert = profile.invert;
  route.length = profile.length;
  route.outlet_level = place.ends[way.end].level;
  route.fall_available = profile.fall_available;
  route.margin = profile.margin;
  route.fall_needed = profile.fall_available - profile.margin;
  route.deepest_cut = profile.deepest_cut;
  route.shallow_end = profile.shallow_end;
  route.excavation = profile.excavation;
  route.crosses = site::crossed(site, way.way);
  if (const site::KeepOff* line = lot_line_at(site, place, way.way.back(), cell))
    route.crosses.emplace_back(line->name.empty() ? "lot line" : "lot line '" + line->name + "'", 0);
  return route;
}

bool over_lot_line(const OutletRoute& route) {
  return std::any_of(route.crosses.begin(), route.crosses.end(), [](const auto& each) {
    return each.second == 0 && each.first.rfind("lot line", 0) == 0;
  });
}

// A pipe with nothing of fall to spare has to be laid without a slip: one that has some stands before it,
// unless it is twice the digging.
void prefer_spare(std::vector<OutletRoute>& routes) {
  constexpr double little = 0.0254, worth = 2; // m, times what is dug
  if (routes.empty() || routes.front().reach != Reach::by_gravity || routes.front().margin >= little) return;
  const OutletRoute& first = routes.front();
  const auto better = std::find_if(routes.begin() + 1, routes.end(), [&](const OutletRoute& other) {
    return other.reach == Reach::by_gravity && over_lot_line(other) == over_lot_line(first) &&
           other.margin >= little && other.excavation <= worth * first.excavation;
  });
  if (better != routes.end()) std::rotate(routes.begin(), better, better + 1);
}

// A level that no ditch beside the place can have is a slip, and would make every drain easy or impossible.
void refuse_far_off(const site::Site& site, const site::OutletCandidate& candidate, double ground) {
  constexpr double deepest = 3.048; // m, 10 ft: as for the invert of an outlet
  const double off = candidate.level - ground;
  if (std::abs(off) <= deepest) return;
  const auto elevation = [&](double metres) { return rounded(metres / site.unit, 6) + " " + site.units; };
  throw InputError({site.file.string(), candidate.line, "outlet_candidate '" + candidate.name + "'.level"},
                   elevation(candidate.level) + ", " + site::written(std::abs(off), Dimension::length, site) +
                       (off > 0 ? " above" : " below") + " the ground there (" + elevation(ground) + ")",
                   "an elevation within " + site::written(deepest, Dimension::length, site) +
                       " of the ground",
                   "check the number, its decimal point and its benchmark, and the place");
}

} // namespace

std::vector<OutletPlace> outlet_places(const site::Site& site, const terrain::Ground& ground,
                                       const ReachGround& reach_ground) {
  // The lowest open face of each block: there the water leaves.
  std::map<std::pair<int, int>, double> level_of; // side, block
  for (const terrain::EdgeFace& edge : ground.edges) {
    if (!edge.open || !ground.active[edge.cell]) continue;
    const Point at = middle(ground.grid, static_cast<std::size_t>(edge.cell));
    const int block = nearest_open(reach_ground, at, 2 * reach_ground.grid.cell);
    if (block < 0) continue;
    const auto key = std::pair{static_cast<int>(edge.compass), block};
    const double level = ground.elevation[edge.cell];
    const auto [place, added] = level_of.try_emplace(key, level);
    if (!added) place->second = std::min(place->second, level);
  }
  std::vector<OutletPlace> places;
  int side = -1;
  for (const auto& [key, level] : level_of) {
    if (key.first != side) places.push_back({side_name(static_cast<terrain::Side>(key.first)), "edge", {}});
    side = key.first;
    places.back().ends.push_back({middle(reach_ground.grid, static_cast<std::size_t>(key.second)), level});
  }
  for (const site::OutletCandidate& candidate : site.outlet_candidates) {
    OutletPlace place{candidate.name, candidate.kind, {}};
    const int block = nearest_open(reach_ground, candidate.at, std::max(1.0, 2 * reach_ground.grid.cell));
    if (block >= 0) {
      if (std::isfinite(candidate.level)) refuse_far_off(site, candidate, reach_ground.elevation[block]);
      const double level = std::isfinite(candidate.level) ? candidate.level : reach_ground.elevation[block];
      place.ends.push_back({middle(reach_ground.grid, static_cast<std::size_t>(block)), level});
    }
    places.push_back(std::move(place));
  }
  return places;
}

std::vector<OutletRoute> find_outlets(const site::Site& site, const ReachGround& ground,
                                      const std::vector<OutletPlace>& places, const Point& from,
                                      double start_invert) {
  std::vector<OutletRoute> routes;
  const int start = nearest_open(ground, from, std::max(1.0, 3 * ground.grid.cell));
  std::vector<std::vector<ReachEnd>> groups;
  for (const OutletPlace& place : places) groups.push_back(place.ends);
  std::vector<ReachWay> ways(places.size());
  if (start >= 0)
    ways = find_ways(ground, site.reach, middle(ground.grid, static_cast<std::size_t>(start)), start_invert,
                     groups);
  for (std::size_t p = 0; p < places.size(); ++p)
    routes.push_back(as_route(site, places[p], ways[p], ground.grid.cell));
  std::stable_sort(routes.begin(), routes.end(), [](const OutletRoute& a, const OutletRoute& b) {
    if (a.reach != b.reach) return a.reach < b.reach;
    if (over_lot_line(a) != over_lot_line(b)) return over_lot_line(b);
    if (a.reach == Reach::by_gravity) return a.excavation < b.excavation;
    if (a.reach == Reach::too_deep) return a.deepest_cut < b.deepest_cut;
    return a.margin > b.margin;
  });
  prefer_spare(routes);
  return routes;
}

} // namespace lowspot::study
