#include <lowspot/terrain/edges.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

namespace lowspot::terrain {
namespace {

struct OutlinePlace {
  std::size_t side = 0; // of the outline, from its corner of this number on
  double along = 0;     // m from the first corner
};

OutlinePlace nearest_place(const Polygon& outline, const Point& point) {
  OutlinePlace best;
  double best_gap = std::numeric_limits<double>::infinity(), passed = 0;
  for (std::size_t k = 0; k < outline.size(); ++k) {
    const Polyline side = {outline[k], outline[(k + 1) % outline.size()]};
    double along = 0;
    const double gap = distance_to(side, point, &along);
    if (gap < best_gap - 1e-9) {
      best_gap = gap;
      best = {k, passed + along};
    }
    passed += length(side);
  }
  return best;
}

Side compass_of(const Polygon& outline, std::size_t side, Side face) {
  const Point &a = outline[side], &b = outline[(side + 1) % outline.size()];
  // Outward is to the right of an anticlockwise side.
  const double turn = signed_area(outline) > 0 ? 1 : -1;
  const double east = turn * (b.y - a.y), north = -turn * (b.x - a.x);
  const double lean = std::abs(east) - std::abs(north);
  const double even = 1e-6 * (std::abs(east) + std::abs(north));
  const bool face_east_west = face == Side::west || face == Side::east;
  if (std::abs(lean) <= even ? face_east_west : lean > 0) return east > 0 ? Side::east : Side::west;
  return north > 0 ? Side::north : Side::south;
}

double perimeter_of(const Polygon& outline) {
  double sum = 0;
  for (std::size_t k = 0; k < outline.size(); ++k)
    sum += distance(outline[k], outline[(k + 1) % outline.size()]);
  return sum;
}

struct Stretch {
  double from = 0, length = 0; // m along the outline, wrapping round
  bool open = true;
};

Stretch stretch_of(const Polygon& outline, const site::EdgePart& part, double perimeter) {
  const double from = nearest_place(outline, part.from).along, to = nearest_place(outline, part.to).along;
  const double forward = to >= from ? to - from : to - from + perimeter;
  const bool open = part.kind == site::EdgeKind::open;
  return forward <= perimeter / 2 ? Stretch{from, forward, open} : Stretch{to, perimeter - forward, open};
}

bool holds(const Stretch& stretch, double along, double perimeter) {
  const double ahead = along >= stretch.from ? along - stretch.from : along - stretch.from + perimeter;
  constexpr double hair = 1e-6;
  return ahead <= stretch.length + hair || ahead >= perimeter - hair;
}

// How far a place along the outline lies from the middle of a stretch, the shorter way round [m].
double off_middle(const Stretch& stretch, double along, double perimeter) {
  const double ahead = std::fmod(along - stretch.from - stretch.length / 2 + 2 * perimeter, perimeter);
  return std::min(ahead, perimeter - ahead);
}

// Opens or closes the faces whose place lies in each stretch, the later ones ruling. A way out narrower than
// a cell may hold none; the face nearest to it is then open, for without one the yard would fill up.
void lay_stretches(const std::vector<Stretch>& stretches, const std::vector<double>& along, double perimeter,
                   double cell, std::vector<EdgeFace>& faces) {
  for (const Stretch& stretch : stretches) {
    bool found = false;
    std::size_t nearest = 0;
    for (std::size_t f = 0; f < faces.size(); ++f) {
      if (off_middle(stretch, along[f], perimeter) < off_middle(stretch, along[nearest], perimeter) - 1e-6)
        nearest = f;
      if (!holds(stretch, along[f], perimeter)) continue;
      faces[f].open = stretch.open;
      found = true;
    }
    if (!found && stretch.open && !faces.empty() &&
        off_middle(stretch, along[nearest], perimeter) <= stretch.length / 2 + cell) // none at a building
      faces[nearest].open = true;
  }
}

bool open_by_compass(const site::Edges& edges, Side compass) {
  const auto& stated = compass == Side::west    ? edges.west
                       : compass == Side::east  ? edges.east
                       : compass == Side::south ? edges.south
                                                : edges.north;
  return stated.value_or(edges.otherwise) == site::EdgeKind::open;
}

} // namespace

std::vector<EdgeFace> find_edges(const site::Site& site, const Grid& grid,
                                 const std::vector<CellKind>& kinds) {
  const double perimeter = perimeter_of(site.outline);
  std::vector<Stretch> stretches;
  for (const site::EdgePart& part : site.edges.parts)
    stretches.push_back(stretch_of(site.outline, part, perimeter));
  struct Step {
    Side side;
    int di, dj;
  };
  constexpr Step steps[] = {
      {Side::west, -1, 0}, {Side::east, 1, 0}, {Side::south, 0, -1}, {Side::north, 0, 1}};
  std::vector<EdgeFace> faces;
  std::vector<double> along; // of the place of each on the outline [m]
  for (int j = 0; j < grid.ny; ++j)
    for (int i = 0; i < grid.nx; ++i) {
      if (kinds[grid.index(i, j)] != CellKind::ground) continue;
      for (const Step& step : steps) {
        const int a = i + step.di, b = j + step.dj;
        if (grid.inside(a, b) && kinds[grid.index(a, b)] != CellKind::outside) continue;
        const Point middle{grid.x(i) + step.di * grid.cell / 2, grid.y(j) + step.dj * grid.cell / 2};
        const OutlinePlace place = nearest_place(site.outline, middle);
        EdgeFace face;
        face.cell = static_cast<int>(grid.index(i, j));
        face.side = step.side;
        face.compass = compass_of(site.outline, place.side, step.side);
        face.open = open_by_compass(site.edges, face.compass);
        faces.push_back(face);
        along.push_back(place.along);
      }
    }
  lay_stretches(stretches, along, perimeter, grid.cell, faces);
  return faces;
}

} // namespace lowspot::terrain
