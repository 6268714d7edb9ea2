// Grounds to try, and one seen from another side.
#pragma once
#include <cmath>
#include <limits>
#include <random>
#include <vector>

#include <lowspot/relief/relief.hpp>

namespace lowspot::relief {

struct Land { // what a Relief looks at
  Grid grid;
  Mask active;
  Field elevation, crest_x, crest_y;
  std::vector<OpenFace> open_faces;
  Relief view() const { return {grid, active, elevation, crest_x, crest_y, open_faces}; }
};

inline void open_limits(Land& land) {
  const Grid& grid = land.grid;
  for (int j = 0; j < grid.ny; ++j)
    for (int i = 0; i < grid.nx; ++i) {
      const int cell = static_cast<int>(grid.index(i, j));
      if (!land.active[cell]) continue;
      if (i == 0) land.open_faces.push_back({cell, 0});
      if (i == grid.nx - 1) land.open_faces.push_back({cell, 1});
      if (j == 0) land.open_faces.push_back({cell, 2});
      if (j == grid.ny - 1) land.open_faces.push_back({cell, 3});
    }
}

// Rough ground, with ties where `step` [m] is coarse, some walls and some cells that are none.
inline Land rough_land(int nx, int ny, unsigned seed, double step, double walls, double gaps) {
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> unit(0, 1);
  Land land;
  land.grid = {nx, ny, 0.5, 0, 0};
  land.active.assign(land.grid.cells(), 1);
  for (std::size_t c = 0; c < land.grid.cells(); ++c)
    land.elevation.push_back(50 + step * std::floor(unit(random) / step));
  land.crest_x.assign(land.grid.x_faces(), -std::numeric_limits<double>::infinity());
  land.crest_y.assign(land.grid.y_faces(), -std::numeric_limits<double>::infinity());
  for (Field* crest : {&land.crest_x, &land.crest_y})
    for (double& level : *crest)
      if (unit(random) < walls) level = 50 + step * std::floor(1.3 * unit(random) / step);
  for (std::uint8_t& active : land.active) active = unit(random) >= gaps;
  open_limits(land);
  return land;
}

// A quarter turn, anticlockwise: what lay east lies north.
inline Land turned(const Land& land) {
  const Grid& old = land.grid;
  Land result = land;
  result.grid = {old.ny, old.nx, old.cell, 0, 0};
  const Grid& grid = result.grid;
  result.crest_x.resize(grid.x_faces());
  result.crest_y.resize(grid.y_faces());
  for (int j = 0; j < grid.ny; ++j)
    for (int i = 0; i < grid.nx; ++i) {
      const int a = j, b = old.ny - 1 - i;
      result.active[grid.index(i, j)] = land.active[old.index(a, b)];
      result.elevation[grid.index(i, j)] = land.elevation[old.index(a, b)];
      result.crest_x[grid.x_face(i, j)] = land.crest_y[old.y_face(a, b + 1)];
      result.crest_x[grid.x_face(i + 1, j)] = land.crest_y[old.y_face(a, b)];
      result.crest_y[grid.y_face(i, j)] = land.crest_x[old.x_face(a, b)];
      result.crest_y[grid.y_face(i, j + 1)] = land.crest_x[old.x_face(a + 1, b)];
    }
  constexpr int side_after[4] = {2, 3, 1, 0};
  for (OpenFace& open : result.open_faces) {
    const int a = old.column(open.cell), b = old.row(open.cell);
    open = {static_cast<int>(grid.index(old.ny - 1 - b, a)), side_after[open.side]};
  }
  return result;
}

// Seen in a mirror: what lay east lies west.
inline Land mirrored(const Land& land) {
  const Grid& grid = land.grid;
  Land result = land;
  for (int j = 0; j < grid.ny; ++j)
    for (int i = 0; i < grid.nx; ++i) {
      const int a = grid.nx - 1 - i;
      result.active[grid.index(i, j)] = land.active[grid.index(a, j)];
      result.elevation[grid.index(i, j)] = land.elevation[grid.index(a, j)];
      result.crest_x[grid.x_face(i, j)] = land.crest_x[grid.x_face(a + 1, j)];
      result.crest_x[grid.x_face(i + 1, j)] = land.crest_x[grid.x_face(a, j)];
      result.crest_y[grid.y_face(i, j)] = land.crest_y[grid.y_face(a, j)];
      result.crest_y[grid.y_face(i, j + 1)] = land.crest_y[grid.y_face(a, j + 1)];
    }
  for (OpenFace& open : result.open_faces) {
    const int i = grid.column(open.cell), j = grid.row(open.cell);
    open.cell = static_cast<int>(grid.index(grid.nx - 1 - i, j));
    if (open.side < 2) open.side = 1 - open.side;
  }
  return result;
}

} // namespace lowspot::relief
