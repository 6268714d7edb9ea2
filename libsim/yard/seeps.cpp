#include <lowspot/yard/seeps.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include <lowspot/base/error.hpp>

namespace lowspot::yard {
namespace {

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

std::vector<int> cells_of(const terrain::Ground& ground, const std::vector<std::size_t>& faces) {
  std::vector<int> cells;
  for (const std::size_t face : faces) {
    const int cell = ground.edges[face].cell;
    if (std::find(cells.begin(), cells.end(), cell) == cells.end()) cells.push_back(cell);
  }
  return cells;
}

} // namespace

std::vector<std::size_t> faces_along(const site::Site& site, const terrain::Ground& ground,
                                     const Polyline& along, const std::string& key) {
  std::vector<std::size_t> faces;
  for (std::size_t f = 0; f < ground.edges.size(); ++f)
    // An outline that cuts the cells aslant lies up to 0.71 of one off their staircase.
    if (distance_to(along, face_centre(ground.grid, ground.edges[f])) < 0.49 * ground.grid.cell)
      faces.push_back(f);
  if (faces.empty()) // a slanting limit
    for (std::size_t f = 0; f < ground.edges.size(); ++f)
      if (distance_to(along, face_centre(ground.grid, ground.edges[f])) < 1.2 * ground.grid.cell)
        faces.push_back(f);
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
