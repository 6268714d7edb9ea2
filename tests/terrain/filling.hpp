// The level to which water stands everywhere when rain has filled all: the plain fixed point, for comparison.
#pragma once
#include <algorithm>
#include <random>

#include "yards.hpp"

namespace lowspot::terrain {

// w = max(z, lowest over the faces of max(wall, w beyond)), infinity where nothing can leave.
inline Field filled(const Ground& ground) {
  const Grid& grid = ground.grid;
  Field w(grid.cells(), std::numeric_limits<double>::infinity());
  auto crest_of = [&](const EdgeFace& edge) {
    const int i = grid.column(edge.cell), j = grid.row(edge.cell);
    return edge.side == Side::west    ? ground.crest_x[grid.x_face(i, j)]
           : edge.side == Side::east  ? ground.crest_x[grid.x_face(i + 1, j)]
           : edge.side == Side::south ? ground.crest_y[grid.y_face(i, j)]
                                      : ground.crest_y[grid.y_face(i, j + 1)];
  };
  for (const EdgeFace& edge : ground.edges)
    if (edge.open)
      w[edge.cell] = std::min(w[edge.cell], std::max(ground.elevation[edge.cell], crest_of(edge)));
  for (bool changed = true; changed;) {
    changed = false;
    for (int j = 0; j < grid.ny; ++j)
      for (int i = 0; i < grid.nx; ++i) {
        const std::size_t c = grid.index(i, j);
        if (!ground.active[c]) continue;
        double best = w[c];
        auto look = [&](bool exists, std::size_t other, double crest) {
          if (exists && ground.active[other])
            best = std::min(best, std::max({ground.elevation[c], w[other], crest}));
        };
        look(i > 0, c - 1, ground.crest_x[grid.x_face(i, j)]);
        look(i + 1 < grid.nx, c + 1, ground.crest_x[grid.x_face(i + 1, j)]);
        look(j > 0, c - grid.nx, ground.crest_y[grid.y_face(i, j)]);
        look(j + 1 < grid.ny, c + grid.nx, ground.crest_y[grid.y_face(i, j + 1)]);
        changed = changed || best < w[c];
        w[c] = best;
      }
  }
  return w;
}

// Rough ground, with ties where `step` is coarse, some walls and some cells that are none.
inline Ground rough_ground(int nx, int ny, unsigned seed, double step, double walls, double gaps) {
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> unit(0, 1);
  auto height = [&](int, int) { return 50 + step * std::floor(unit(random) / step); };
  Ground ground = bare_ground(nx, ny, 0.5, height);
  for (Field* crest : {&ground.crest_x, &ground.crest_y})
    for (double& level : *crest)
      if (unit(random) < walls) level = 50 + step * std::floor(1.3 * unit(random) / step);
  for (std::uint8_t& active : ground.active) active = unit(random) >= gaps;
  for (Side side : {Side::west, Side::east, Side::south, Side::north}) open_side(ground, side);
  std::erase_if(ground.edges, [&](const EdgeFace& edge) { return !ground.active[edge.cell]; });
  return ground;
}

} // namespace lowspot::terrain
