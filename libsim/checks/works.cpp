#include <lowspot/checks/works.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include <lowspot/checks/judge.hpp>
#include <lowspot/terrain/reshape.hpp>

namespace lowspot::checks {
namespace {
constexpr double spacing = 0.1524;     // m between stations
constexpr double look_every = 0.05;    // m along a line: a gap of some feet is then right to a hair
constexpr double most_pieces = 20'000; // of one piece of a line

Polyline rim(Polygon outline) {
  if (!outline.empty()) outline.push_back(outline.front());
  return outline;
}

Polyline flat(const std::vector<Point3>& path) {
  Polyline line;
  for (const Point3& point : path) line.push_back({point.x, point.y});
  return line;
}
} // namespace

const site::Run& Works::run(const job::CutRun& cut) const {
  return *std::find_if(design->runs.begin(), design->runs.end(),
                       [&](const site::Run& run) { return run.name == cut.name; });
}

Works lay_out(const site::Site& site, const terrain::Ground& ground, const site::Design& design) {
  Works works;
  works.design = &design;
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
    if (outlet.well.depth > 0)
      list.push_back({outlet.name, outlet.at, std::sqrt(outlet.well.plan / M_PI), outlet.well.depth});
  return list;
}

std::vector<std::pair<std::string, Polyline>> other_digging(const site::Design& design) {
  std::vector<std::pair<std::string, Polyline>> list;
  for (const site::Channel& channel : design.channels) list.emplace_back(channel.name, channel.path);
  for (const site::Basin& basin : design.basins) list.emplace_back(basin.name, rim(basin.outline));
  for (const site::Amend& amend : design.amends) list.emplace_back(amend.name, rim(amend.outline));
  for (const site::Regrade& work : design.regrades) {
    if (work.kind == "berm") continue; // it only fills
    list.emplace_back(work.name, work.kind == "plane" ? rim(work.outline) : flat(work.path));
  }
  return list;
}

std::string at_station(const job::CutStation& station, const site::Site& site) {
  if (station.station < 0.01) return ", at the outlet";
  return ", " + length_text(station.station, site) + " up from the outlet";
}

} // namespace lowspot::checks
