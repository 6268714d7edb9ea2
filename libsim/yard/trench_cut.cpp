#include <lowspot/yard/trench_cut.hpp>

#include <algorithm>
#include <cmath>

namespace lowspot::yard {
namespace {
// Twice the area of the triangle a b c: above 0 where c lies to the left of a b.
double turn(const Point& a, const Point& b, const Point& c) {
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

// Whether the way from p to q crosses or touches the piece from a to b, other than along it.
bool meets(const Point& a, const Point& b, const Point& p, const Point& q) {
  const double near = 1e-9 * distance(a, b) * distance(p, q);
  const double at_p = turn(a, b, p), at_q = turn(a, b, q), at_a = turn(p, q, a), at_b = turn(p, q, b);
  if (std::abs(at_p) <= near && std::abs(at_q) <= near) return false;
  return std::min(at_p, at_q) <= near && std::max(at_p, at_q) >= -near && std::min(at_a, at_b) <= near &&
         std::max(at_a, at_b) >= -near;
}

// Columns or rows from one before `low` to one after `high`, within a grid of n.
struct Span {
  int first = 0, last = -1;
};
Span around(double low, double high, double origin, double cell, int n) {
  return {std::max(0, static_cast<int>(std::floor((low - origin) / cell)) - 1),
          std::min(n - 1, static_cast<int>(std::floor((high - origin) / cell)) + 1)};
}

// Adds the faces that a straight piece of trench from a to b cuts.
void cut_along(const terrain::Ground& ground, const perched::Layer& layer, const Point& a, const Point& b,
               double bottom, std::vector<perched::ClosedFace>& cut) {
  const Grid& grid = ground.grid;
  const Span columns = around(std::min(a.x, b.x), std::max(a.x, b.x), grid.x0, grid.cell, grid.nx);
  const Span rows = around(std::min(a.y, b.y), std::max(a.y, b.y), grid.y0, grid.cell, grid.ny);
  const auto look_at = [&](int i, int j, int i_next, int j_next) {
    if (!grid.inside(i_next, j_next)) return;
    const std::size_t here = grid.index(i, j), there = grid.index(i_next, j_next);
    if (!ground.active[here] || !ground.active[there] || !reaches_tight_layer(bottom, layer, here, there))
      return;
    if (meets(a, b, {grid.x(i), grid.y(j)}, {grid.x(i_next), grid.y(j_next)}))
      cut.push_back({static_cast<int>(here), static_cast<int>(there)});
  };
  for (int j = rows.first; j <= rows.last; ++j)
    for (int i = columns.first; i <= columns.last; ++i) {
      look_at(i, j, i + 1, j);
      look_at(i, j, i, j + 1);
    }
}
} // namespace

bool reaches_tight_layer(double bottom, const perched::Layer& layer, std::size_t a, std::size_t b) {
  constexpr double nearly = 0.01; // m
  return bottom <= (layer.tight_elevation[a] + layer.tight_elevation[b]) / 2 + nearly;
}

std::vector<perched::ClosedFace> find_cut_faces(const terrain::Ground& ground,
                                                const std::vector<drain::Station>& stations,
                                                const drain::Layout& layout, const perched::Layer& layer) {
  std::vector<perched::ClosedFace> cut;
  for (const drain::Station& station : stations) {
    if (station.trench_width <= 0) continue;
    const Polyline& path = layout.runs[station.run].path;
    // Short pieces follow the bends.
    const int pieces = std::max(1, static_cast<int>(std::ceil(4 * station.length / ground.grid.cell)));
    const double piece = station.length / pieces;
    for (int k = 0; k < pieces; ++k) {
      const double start = station.distance - station.length / 2 + k * piece;
      cut_along(ground, layer, point_along(path, start), point_along(path, start + piece),
                station.trench_bottom, cut);
    }
  }
  return cut;
}

} // namespace lowspot::yard
