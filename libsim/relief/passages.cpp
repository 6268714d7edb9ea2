#include <lowspot/relief/passages.hpp>

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>

namespace lowspot::relief {
namespace {

constexpr int west = 1, east = 2, south = 4, north = 8;

double edge_crest(const Relief& relief, const OpenFace& open) {
  if (relief.crest_x.empty()) return -std::numeric_limits<double>::infinity();
  const Grid& grid = relief.grid;
  const int i = grid.column(open.cell), j = grid.row(open.cell);
  return open.side < 2 ? relief.crest_x[grid.x_face(i + open.side, j)]
                       : relief.crest_y[grid.y_face(i, j + open.side - 2)];
}

void check(const Relief& relief) {
  const std::size_t cells = relief.grid.cells();
  if (relief.active.size() != cells || relief.elevation.size() != cells)
    throw std::invalid_argument("a relief whose cells do not fit its grid");
  if ((!relief.crest_x.empty() && relief.crest_x.size() != relief.grid.x_faces()) ||
      relief.crest_x.empty() != relief.crest_y.empty() ||
      (!relief.crest_y.empty() && relief.crest_y.size() != relief.grid.y_faces()))
    throw std::invalid_argument("a relief whose walls do not fit its grid");
  for (std::size_t cell = 0; cell < cells; ++cell)
    if (relief.active[cell] && !std::isfinite(relief.elevation[cell]))
      throw std::invalid_argument("a relief whose ground at cell " + std::to_string(cell) + " is no number");
  for (const OpenFace& open : relief.open_faces)
    if (open.cell < 0 || static_cast<std::size_t>(open.cell) >= cells || !relief.active[open.cell] ||
        open.side < 0 || open.side > 3)
      throw std::invalid_argument("a relief with an open face on no active cell");
}

} // namespace

Passages find_passages(const Relief& relief) {
  check(relief);
  const Grid& grid = relief.grid;
  Passages result;
  result.blocked.assign(grid.cells(), west | east | south | north);
  const bool walls = !relief.crest_x.empty();
  const auto between = [&](std::size_t a, std::size_t b, int side_a, int side_b, double crest) {
    if (!relief.active[a] || !relief.active[b]) return;
    if (crest > relief.elevation[a] && crest > relief.elevation[b]) {
      result.walls.push_back({crest, static_cast<int>(a), static_cast<int>(b)});
      return;
    }
    result.blocked[a] = static_cast<std::uint8_t>(result.blocked[a] & ~side_a);
    result.blocked[b] = static_cast<std::uint8_t>(result.blocked[b] & ~side_b);
  };
  const double none = -std::numeric_limits<double>::infinity();
  for (int j = 0; j < grid.ny; ++j)
    for (int i = 0; i < grid.nx; ++i) {
      const std::size_t c = grid.index(i, j);
      if (i > 0) between(c - 1, c, east, west, walls ? relief.crest_x[grid.x_face(i, j)] : none);
      if (j > 0) between(c - grid.nx, c, north, south, walls ? relief.crest_y[grid.y_face(i, j)] : none);
    }
  for (const OpenFace& open : relief.open_faces) {
    const double crest = edge_crest(relief, open);
    if (crest > relief.elevation[open.cell])
      result.walls.push_back({crest, open.cell, -1});
    else
      result.blocked[open.cell] |= outlet_bit;
  }
  std::sort(result.walls.begin(), result.walls.end(), [](const Overtopping& p, const Overtopping& q) {
    return p.level != q.level ? p.level < q.level : p.a != q.a ? p.a < q.a : p.b < q.b;
  });
  return result;
}

} // namespace lowspot::relief
