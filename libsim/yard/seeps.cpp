#include <lowspot/yard/seeps.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include <lowspot/base/error.hpp>

namespace lowspot::yard {
namespace {

Point nearest_on(const Polyline& line, const Point& point) {
  double along = 0;
  distance_to(line, point, &along);
  return point_along(line, along);
}

// How far a line drawn along the limit lies off it anywhere [m], looked at every `step` of its length.
double farthest_from(const Polyline& limit, const Polyline& line, double step) {
  const double whole = length(line);
  const int pieces = std::max(1, static_cast<int>(std::ceil(std::min(whole / step, 1e5))));
  double farthest = 0;
  for (int k = 0; k <= pieces; ++k)
    farthest = std::max(farthest, distance_to(limit, point_along(line, whole * k / pieces)));
  return farthest;
}

// Whether a line passes a place within a distance [m], neither of its ends short of it.
bool passes(const Polyline& line, const Point& place, double within) {
  constexpr double hair = 1e-6; // m
  double along = 0;
  if (distance_to(line, place, &along) > within) return false;
  const double whole = length(line);
  if (along > hair && along < whole - hair) return true;
  const bool head = along <= hair;
  const Point &end = head ? line.front() : line.back(), &inner = head ? line[1] : line[line.size() - 2];
  const double piece = distance(end, inner);
  return piece > 0 &&
         (place.x - end.x) * (end.x - inner.x) + (place.y - end.y) * (end.y - inner.y) <= hair * piece;
}

std::vector<int> cells_of(const terrain::Ground& ground, const std::vector<std::size_t>& faces) {
  std::vector<int> cells;
  for (const std::size_t face : faces) {
    const int cell = ground.edges[face].cell;
    if (std::find(cells.begin(), cells.end(), cell) == cells.end()) cells.push_back(cell);
  }
  return cells;
}

} // namespace

Point face_centre(const Grid& grid, const terrain::EdgeFace& face) {
  const Point cell{grid.x(grid.column(face.cell)), grid.y(grid.row(face.cell))};
  const double half = grid.cell / 2;
  switch (face.side) {
  case terrain::Side::west:
    return {cell.x - half, cell.y};
  case terrain::Side::east:
    return {cell.x + half, cell.y};
  case terrain::Side::south:
    return {cell.x, cell.y - half};
  default:
    return {cell.x, cell.y + half};
  }
}

std::vector<std::size_t> faces_along(const site::Site& site, const terrain::Ground& ground,
                                     const Polyline& along, const std::string& key) {
  const double cell = ground.grid.cell, farthest = 1.2 * cell;
  Polyline limit = site.outline;
  limit.push_back(limit.front());
  const double off = farthest_from(limit, along, cell / 2);
  std::vector<std::size_t> faces;
  // The faces of a slanting limit lie up to a cell off it, as stairs: each stands for the place of the
  // outline nearest to it, and the line takes those whose place it passes.
  const double beside = std::min(off, farthest) + 1e-6 * cell;
  for (std::size_t f = 0; f < ground.edges.size(); ++f)
    if (passes(along, nearest_on(limit, face_centre(ground.grid, ground.edges[f])), beside))
      faces.push_back(f);
  if (faces.empty()) // shorter than a face
    for (std::size_t f = 0; f < ground.edges.size(); ++f)
      if (distance_to(along, face_centre(ground.grid, ground.edges[f])) < farthest) faces.push_back(f);
  if (faces.empty())
    throw InputError({site.file.string(), 0, key}, "a line that touches no side of the yard",
                     "a line along the outline", "move it onto the outline");
  return faces;
}

std::vector<Seep> place_seeps(const site::Site& site, const terrain::Ground& ground) {
  std::vector<Seep> seeps;
  for (const site::EdgeSeep& seep : site.edges.seeps)
    if (std::isnan(seep.saturated))
      seeps.push_back(
          {cells_of(ground, faces_along(site, ground, seep.along, "edges.seep '" + seep.name + "'")),
           seep.time, seep.flow, 0});
  return seeps;
}

std::vector<perched::InflowFace> upslope_faces(const site::Site& site, const terrain::Ground& ground) {
  std::vector<perched::InflowFace> inflow;
  for (const site::EdgeSeep& seep : site.edges.seeps) {
    if (std::isnan(seep.saturated)) continue;
    for (const std::size_t f : faces_along(site, ground, seep.along, "edges.seep '" + seep.name + "'")) {
      const int cell = ground.edges[f].cell, side = static_cast<int>(ground.edges[f].side);
      const auto same = std::find_if(inflow.begin(), inflow.end(), [&](const perched::InflowFace& face) {
        return face.cell == cell && face.side == side;
      });
      if (same == inflow.end())
        inflow.push_back({cell, side, seep.saturated});
      else // the face passes its water once
        same->saturated = std::max(same->saturated, seep.saturated);
    }
  }
  return inflow;
}

double flow_at(const Seep& seep, double time) {
  const auto next = std::upper_bound(seep.time.begin(), seep.time.end(), time);
  return next == seep.time.begin() ? 0.0 : seep.flow[next - seep.time.begin() - 1];
}

double next_change(const Seep& seep, double time) {
  const auto next = std::upper_bound(seep.time.begin(), seep.time.end(), time);
  return next == seep.time.end() ? std::numeric_limits<double>::infinity() : *next;
}

} // namespace lowspot::yard
