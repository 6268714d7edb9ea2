#include <lowspot/checks/works.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include <lowspot/checks/judge.hpp>
#include <lowspot/site/combine.hpp>
#include <lowspot/terrain/reshape.hpp>

namespace lowspot::checks {
namespace {
constexpr double spacing = 0.1524;     // m between stations
constexpr double look_every = 0.05;    // m along a line: a gap of some feet is then right to a hair
constexpr double most_pieces = 20'000; // of one piece of a line
constexpr double hand_room = 0.0762;   // m on either side of a pipe laid in backfill
constexpr double in_place = 0.15;      // m: a box this near what it leads to needs no pipe to it

Polyline rim(Polygon outline) {
  if (!outline.empty()) outline.push_back(outline.front());
  return outline;
}

Polyline flat(const std::vector<Point3>& path) {
  Polyline line;
  for (const Point3& point : path) line.push_back({point.x, point.y});
  return line;
}
// Of a box whose grate is seen from above.
Polygon box_of(const site::Inlet& inlet) {
  const double x = inlet.grate.length / 2, y = inlet.grate.width / 2;
  return {{inlet.at.x - x, inlet.at.y - y},
          {inlet.at.x + x, inlet.at.y - y},
          {inlet.at.x + x, inlet.at.y + y},
          {inlet.at.x - x, inlet.at.y + y}};
}

// Where the pipe of a box ends that leads to a work of this name: the nearest place of it.
Point end_of_pipe(const site::Design& design, const std::string& to, const Point& from) {
  for (const site::Run& run : design.runs) {
    if (run.name != to) continue;
    double along = 0;
    distance_to(run.path, from, &along);
    return point_along(run.path, along);
  }
  const auto place_in = [&](const auto& list) {
    const auto found =
        std::find_if(list.begin(), list.end(), [&](const auto& one) { return one.name == to; });
    return found == list.end() ? from : found->at;
  };
  for (const Point& at : {place_in(design.fittings), place_in(design.outlets), place_in(design.inlets)})
    if (distance(at, from) > 0) return at;
  return from;
}

// Of the bed of a swale at a distance from its head [m].
double level_along(const std::vector<Point3>& bed, double along) {
  double passed = 0;
  for (std::size_t k = 1; k < bed.size(); ++k) {
    const double piece = distance({bed[k - 1].x, bed[k - 1].y}, {bed[k].x, bed[k].y});
    if (piece > 0 && along <= passed + piece)
      return bed[k - 1].z + (along - passed) / piece * (bed[k].z - bed[k - 1].z);
    passed += piece;
  }
  return bed.back().z;
}
} // namespace

const site::Run& Works::run(const job::CutRun& cut) const {
  return *std::find_if(design->runs.begin(), design->runs.end(),
                       [&](const site::Run& run) { return run.name == cut.name; });
}

Works lay_out(const site::Site& site, const terrain::Ground& ground, const site::Design& design) {
  Works works;
  works.design = &design;
  works.as_is = &ground;
  works.ground = terrain::changes_ground(design) ? terrain::reshape(site, ground, design) : ground;
  works.sheet = job::make_cut_sheet(site, design, works.ground, spacing);
  return works;
}

double distance_to_outline(const Polygon& outline, const Point& at, Point* nearest) {
  Polyline closed = outline;
  closed.push_back(outline.front());
  double along = 0;
  const double gap = distance_to(closed, at, &along);
  if (nearest) *nearest = point_along(closed, along);
  return contains(outline, at) ? 0 : gap;
}

double distance_to_shape(const site::KeepOff& shape, const Point& at) {
  if (shape.closed) return distance_to_outline(shape.shape, at);
  if (shape.shape.size() == 1) return distance(shape.shape.front(), at);
  return distance_to(shape.shape, at);
}

std::vector<Place> places(const site::Design& design) {
  std::vector<Place> list;
  for (const site::Outlet& outlet : design.outlets) {
    const bool well = outlet.kind == "dry well";
    list.push_back({outlet.name, outlet.at, well ? std::sqrt(outlet.well.plan / M_PI) : 0, well, !well});
    if (outlet.kind == "pump") {
      list.back().sheds = false;
      if (outlet.discharge) list.push_back({outlet.name + ", its hose", *outlet.discharge, 0, false, true});
    }
  }
  return list;
}

std::vector<Spread> spread_works(const site::Design& design) {
  std::vector<Spread> list;
  for (const site::Channel& channel : design.channels)
    list.push_back({channel.name, channel.path, 0.5 * channel.width, false, false});
  for (const site::Basin& basin : design.basins)
    list.push_back({basin.name, rim(basin.outline), 0, true, true});
  for (const site::Amend& amend : design.amends)
    list.push_back({amend.name, rim(amend.outline), 0, true, false});
  for (const site::Regrade& work : design.regrades)
    if (work.kind == "plane")
      list.push_back({work.name, rim(work.outline), 0, true, false});
    else
      list.push_back({work.name, flat(work.path), 0.5 * work.width, false, false});
  return list;
}

std::vector<Point> points_along(const Polyline& line) {
  std::vector<Point> points;
  for (std::size_t k = 1; k < line.size(); ++k) {
    const Point &a = line[k - 1], &b = line[k];
    const int pieces = static_cast<int>(std::ceil(std::clamp(distance(a, b) / look_every, 1.0, most_pieces)));
    for (int p = 0; p < pieces; ++p)
      points.push_back({a.x + (b.x - a.x) * p / pieces, a.y + (b.y - a.y) * p / pieces});
  }
  if (!line.empty()) points.push_back(line.back());
  return points;
}

std::vector<Pit> pits(const site::Design& design) {
  std::vector<Pit> list;
  for (const site::Outlet& outlet : design.outlets)
    if (outlet.well.depth > 0 && !site::stands_already(design, outlet.name))
      list.push_back({outlet.name, outlet.at, std::sqrt(outlet.well.plan / M_PI), outlet.well.depth});
  return list;
}

std::vector<Digging> other_digging(const site::Design& design) {
  std::vector<Digging> list;
  const auto is_new = [&](const std::string& name) { return !site::stands_already(design, name); };
  const auto add_rim = [&](const std::string& name, const Polygon& outline) {
    if (is_new(name)) list.push_back({name, rim(outline), 0, true, {}, 0});
  };
  const auto add_pipe = [&](const std::string& name, const std::string& to, const Point& from, double half) {
    const Point end = end_of_pipe(design, to, from);
    if (!to.empty() && is_new(name) && distance(from, end) > in_place)
      list.push_back({name, {from, end}, half, false, {}, 0});
  };
  for (const site::Channel& channel : design.channels) {
    if (is_new(channel.name)) list.push_back({channel.name, channel.path, 0.5 * channel.width, false, {}, 0});
    add_pipe(channel.name, channel.to, channel.path.back(), 0.5 * channel.width);
  }
  for (const site::Inlet& inlet : design.inlets) {
    add_rim(inlet.name, box_of(inlet));
    add_pipe(inlet.name, inlet.to, inlet.at, 0.5 * inlet.pipe + hand_room);
  }
  for (const site::Basin& basin : design.basins) add_rim(basin.name, basin.outline);
  for (const site::Amend& amend : design.amends) add_rim(amend.name, amend.outline);
  for (const site::Regrade& work : design.regrades)
    if (work.kind == "plane")
      add_rim(work.name, work.outline);
    else if (work.kind == "swale" && is_new(work.name)) // a berm only fills
      list.push_back({work.name, flat(work.path), 0.5 * work.width, false, work.path, work.side_slope});
  return list;
}

double clear_of(const Works& works, const Digging& digging, const Point& at, double within) {
  if (digging.filled && contains(digging.line, at)) return 0;
  double along = 0;
  const double middle = distance_to(digging.line, at, &along);
  const double beside = middle - digging.half;
  if (digging.bed.empty() || beside <= 0) return std::max(0.0, beside);
  // Inward from the place, until a side of the swale lies in the ground as it is today.
  const Point foot = point_along(digging.line, along);
  const double level = level_along(digging.bed, along);
  for (double gone = 0; gone <= std::min(within, beside); gone += look_every) {
    const double share = gone / middle;
    const Point here{at.x + share * (foot.x - at.x), at.y + share * (foot.y - at.y)};
    if (level + digging.side_slope * (beside - gone) < terrain::elevation_at(*works.as_is, here) - 1e-3)
      return gone;
  }
  return beside;
}

std::string at_station(const job::CutStation& station, const site::Site& site) {
  if (station.station < 0.01) return ", at the outlet";
  return ", " + length_text(station.station, site) + " up from the outlet";
}

} // namespace lowspot::checks
