#include <lowspot/yard/outflow.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include <lowspot/yard/seeps.hpp>

namespace lowspot::yard {
namespace {

Point outward(terrain::Side side) {
  switch (side) {
  case terrain::Side::west:
    return {-1, 0};
  case terrain::Side::east:
    return {1, 0};
  case terrain::Side::south:
    return {0, -1};
  default:
    return {0, 1};
  }
}

double dot(const Point& a, const Point& b) {
  return a.x * b.x + a.y * b.y;
}

// Rise of the tight layer from a cell inward, against `out` [m/m]: exact on a plane, by the neighbours beside
// and over the corner between which that way leads, or by those there are.
double rise_inward(const terrain::Ground& ground, const Field& tight, std::size_t cell, const Point& out) {
  const Grid& grid = ground.grid;
  const int i = grid.column(cell), j = grid.row(cell);
  const int step_i = out.x > 0 ? -1 : 1, step_j = out.y > 0 ? -1 : 1;
  const auto rise = [&](int di, int dj) -> std::optional<double> {
    if (!grid.inside(i + di, j + dj)) return std::nullopt;
    const std::size_t other = grid.index(i + di, j + dj);
    if (!ground.active[other]) return std::nullopt;
    return (tight[other] - tight[cell]) / grid.cell;
  };
  const std::optional<double> across = rise(step_i, 0), along = rise(0, step_j),
                              corner = rise(step_i, step_j);
  const double x = std::abs(out.x), y = std::abs(out.y), least = std::min(x, y);
  constexpr double aslant = 1e-9;
  const std::optional<double>& beside = x >= y ? across : along;
  if (beside && least < aslant) return *beside * std::max(x, y);
  if (beside && corner) return *beside * (std::max(x, y) - least) + *corner * least;
  if (!beside && corner) return *corner * std::sqrt(0.5);
  return across.value_or(0) * x + along.value_or(0) * y;
}

} // namespace

Point out_of_yard(const site::Site& site, const Grid& grid, const terrain::EdgeFace& edge) {
  const Polygon& outline = site.outline;
  const Point at = face_centre(grid, edge), face_out = outward(edge.side);
  const double near = 1e-6 * grid.cell;
  const double turn = signed_area(outline) > 0 ? 1 : -1; // outward is to the right of an anticlockwise side
  double nearest = std::numeric_limits<double>::infinity(), most = -2;
  Point best = face_out;
  for (std::size_t k = 0; k < outline.size(); ++k) {
    const Point &a = outline[k], &b = outline[(k + 1) % outline.size()];
    const double whole = distance(a, b), gap = distance_to({a, b}, at);
    if (!(whole > 0) || gap > nearest + near) continue;
    const Point out{turn * (b.y - a.y) / whole, -turn * (b.x - a.x) / whole};
    const double looks = dot(out, face_out);
    if (gap > nearest - near && looks <= most) continue;
    nearest = std::min(nearest, gap);
    most = looks;
    best = out;
  }
  return best;
}

std::vector<perched::OutflowFace> place_outflow(const site::Site& site, const terrain::Ground& ground,
                                                const Field& tight_elevation) {
  const std::optional<site::EdgeKind>& underground = site.edges.underground;
  std::vector<perched::OutflowFace> faces;
  for (const terrain::EdgeFace& edge : ground.edges) {
    if (!(underground ? *underground == site::EdgeKind::open : edge.open)) continue;
    const Point face_out = outward(edge.side), out = out_of_yard(site, ground.grid, edge);
    const double looks = std::max(0.0, dot(out, face_out));
    const double slope =
        rise_inward(ground, tight_elevation, static_cast<std::size_t>(edge.cell), out) * looks;
    faces.push_back({edge.cell, static_cast<int>(edge.side), std::max(0.0, slope)});
  }
  return faces;
}

} // namespace lowspot::yard
