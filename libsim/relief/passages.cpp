#include <lowspot/relief/passages.hpp>

#include <algorithm>

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

} // namespace

Passages find_passages(const Relief& relief) {
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
