#include <lowspot/checks/setbacks.hpp>

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>

#include <lowspot/checks/judge.hpp>

namespace lowspot::checks {
namespace {
using results::CheckOutcome;
using results::CheckRecord;

// Which works a distance is kept by.
enum class Bound { all, soaking, discharge, soaking_or_discharge };

struct Nearest {
  double gap = std::numeric_limits<double>::infinity(); // m
  std::string what;
  Point at;
};

bool bound_place(const Place& place, Bound bound) {
  switch (bound) {
  case Bound::all:
    return true;
  case Bound::soaking:
    return place.soaks;
  case Bound::discharge:
  case Bound::soaking_or_discharge:
    return place.soaks || place.sheds;
  }
  return false;
}

// What a distance is kept from.
struct Kept {
  Polyline shape;                             // a point, a line, or a rim with its first corner repeated
  std::function<double(const Point&)> gap_to; // m from a place; infinite where the place does not count
};

// The piece of the works that comes nearest.
Nearest nearest_works(const Works& works, Bound bound, const Kept& kept) {
  Nearest best;
  const auto offer = [&](double gap, const std::string& what, const Point& at) {
    constexpr double touching = 1e-6; // m: what is left of the rounding of places
    if (gap < best.gap) best = {gap < touching ? 0.0 : gap, what, at};
  };
  for (const Place& place : places(*works.design))
    if (bound_place(place, bound)) offer(kept.gap_to(place.at) - place.radius, place.name, place.at);
  const std::vector<Point> of_shape = points_along(kept.shape);
  for (const Spread& work : spread_works(*works.design)) {
    if (bound != Bound::all && !work.soaks) continue;
    for (const Point& at : points_along(work.line)) offer(kept.gap_to(at) - work.half, work.name, at);
    // What lies within a rain garden may be far from its rim.
    if (!work.filled) continue;
    for (const Point& at : of_shape)
      if (contains(work.line, at)) offer(kept.gap_to(at), work.name, at);
  }
  if (bound == Bound::discharge) return best;
  for (const job::CutRun& cut : works.sheet.runs) {
    // Stone lets water into the ground through its bottom whatever lies in it.
    if (bound != Bound::all && !works.run(cut).has_trench) continue;
    for (const job::CutStation& station : cut.stations)
      offer(kept.gap_to(station.at) - 0.5 * cut.width, cut.name, station.at);
  }
  if (bound == Bound::all)
    for (const site::Inlet& inlet : works.design->inlets) offer(kept.gap_to(inlet.at), inlet.name, inlet.at);
  return best;
}

Polyline rim_of(const site::KeepOff& place) {
  Polyline line = place.shape;
  if (place.closed) line.push_back(line.front());
  return line;
}

void judge_distance(const site::Site& site, CheckRecord record, const std::string& limit_name,
                    const Nearest& nearest, double own_distance, const std::string& none,
                    std::vector<CheckRecord>& list) {
  if (!std::isfinite(nearest.gap)) {
    record.outcome = CheckOutcome::pass;
    record.found = none;
  } else if (std::isfinite(own_distance)) {
    record.limit_value = own_distance;
    record.limit = "at least " + length_text(own_distance, site);
    record.source = "[[keep_off]] of the site file";
    record.mark = "town";
    record.found_value = nearest.gap;
    record.found = length_text(nearest.gap, site) + " (" + nearest.what + ")";
    record.outcome = nearest.gap >= own_distance - 1e-9 ? CheckOutcome::pass : CheckOutcome::fail;
  } else
    judge(record, site, limit_name, nearest.gap, " (" + nearest.what + ")");
  list.push_back(std::move(record));
}

void from_houses(const site::Site& site, const Works& works, std::vector<CheckRecord>& list) {
  for (const site::Building& building : site.buildings) {
    Polyline walls = building.outline;
    walls.push_back(walls.front());
    const Nearest nearest =
        nearest_works(works, Bound::soaking,
                      {walls, [&](const Point& at) { return distance_to_outline(building.outline, at); }});
    judge_distance(site,
                   item(site, "soak_from_house", "soak_from_house",
                        "Water let into the ground near the house", building.name),
                   "soak_from_house", nearest, site::not_given, "nothing of it lets water into the ground",
                   list);
  }
}

// Septic fields: the distance depends on which side of the field the works lie.
void from_septic(const site::Site& site, const Works& works, const site::KeepOff& field,
                 std::vector<CheckRecord>& list) {
  double field_ground = 0;
  for (const Point& corner : field.shape)
    field_ground += terrain::elevation_at(works.ground, corner) / static_cast<double>(field.shape.size());
  for (const bool uphill : {true, false}) {
    const auto gap_to = [&](const Point& at) {
      const bool above = terrain::elevation_at(works.ground, at) > field_ground + 1e-6;
      return above == uphill ? distance_to_shape(field, at) : std::numeric_limits<double>::infinity();
    };
    const std::string name = uphill ? "septic_upslope" : "septic_downslope";
    const Nearest nearest = nearest_works(works, Bound::soaking_or_discharge, {rim_of(field), gap_to});
    if (!std::isfinite(nearest.gap)) continue;
    judge_distance(site,
                   item(site, name, name,
                        uphill ? "Distance uphill of a septic field" : "Distance downhill of a septic field",
                        field.name),
                   name, nearest, field.distance, "", list);
  }
}

void from_place(const site::Site& site, const Works& works, const site::KeepOff& place,
                std::vector<CheckRecord>& list) {
  const auto gap_to = [&](const Point& at) { return distance_to_shape(place, at); };
  if (place.kind == "septic field") return from_septic(site, works, place, list);
  const bool street = place.kind == "right of way", lot = place.kind == "lot line";
  const std::string limit = lot                    ? "lot_line_distance"
                            : street               ? "right_of_way_distance"
                            : place.kind == "well" ? "well_distance"
                                                   : "keep_off";
  const Nearest nearest =
      nearest_works(works, lot || street ? Bound::discharge : Bound::all, {rim_of(place), gap_to});
  judge_distance(site, item(site, limit, limit, "Distance from a " + place.kind, place.name), limit, nearest,
                 place.distance, "no water comes out on the ground", list);
  if (place.kind == "other") list.back().name = "Distance to keep";
}

void unnamed_lot_lines(const site::Site& site, const Works& works, std::vector<CheckRecord>& list) {
  const bool named = std::any_of(site.keep_offs.begin(), site.keep_offs.end(),
                                 [](const site::KeepOff& place) { return place.kind == "lot line"; });
  Polyline limit = site.outline;
  if (named || limit.empty()) return;
  limit.push_back(limit.front());
  const Nearest nearest = nearest_works(works, Bound::discharge,
                                        {limit, [&](const Point& at) { return distance_to(limit, at); }});
  if (!std::isfinite(nearest.gap)) return;
  CheckRecord record =
      item(site, "lot_line_distance", "lot_line_distance", "Distance from a lot line", nearest.what);
  record.outcome = CheckOutcome::unknown;
  record.found =
      length_text(nearest.gap, site) + " from the limit of what is computed (" + nearest.what + ")";
  record.missing = "where the lot lines run: the plat or the corner pins show it. Give each as [[keep_off]] "
                   "with kind = \"lot line\"";
  list.push_back(std::move(record));
}

} // namespace

void check_setbacks(const site::Site& site, const Works& works, std::vector<CheckRecord>& list) {
  from_houses(site, works, list);
  unnamed_lot_lines(site, works, list);
  for (const site::KeepOff& place : site.keep_offs) from_place(site, works, place, list);
}

} // namespace lowspot::checks
