#include <lowspot/terrain/open_sky.hpp>

#include <algorithm>
#include <cstdlib>

namespace lowspot::terrain {
namespace {

// Active cells around a cell, those across its faces before those across its corners.
std::vector<std::size_t> receivers(const Ground& ground, std::size_t cell) {
  const Grid& grid = ground.grid;
  for (const int reach : {1, 2}) { // steps along an axis
    std::vector<std::size_t> found;
    for (int dj = -1; dj <= 1; ++dj)
      for (int di = -1; di <= 1; ++di) {
        const int i = grid.column(static_cast<int>(cell)) + di, j = grid.row(static_cast<int>(cell)) + dj;
        if (std::abs(di) + std::abs(dj) != reach || !grid.inside(i, j)) continue;
        if (ground.active[grid.index(i, j)]) found.push_back(grid.index(i, j));
      }
    if (!found.empty()) return found;
  }
  return {};
}

} // namespace

Field open_sky(const Ground& ground, const std::vector<CellKind>& kinds) {
  const std::size_t cells = ground.grid.cells();
  Field open(cells, 1.0);
  for (const Coverage& building : ground.buildings)
    for (std::size_t k = 0; k < building.cells.size(); ++k)
      open[building.cells[k]] = std::max(0.0, open[building.cells[k]] - building.fractions[k]);
  constexpr double no_share = 1e-12;
  Field sky(cells, 0.0);
  for (std::size_t c = 0; c < cells; ++c) {
    if (ground.active[c]) sky[c] += open[c];
    if (kinds[c] != CellKind::building || !(open[c] > no_share)) continue;
    const std::vector<std::size_t> beside = receivers(ground, c);
    for (const std::size_t other : beside) sky[other] += open[c] / static_cast<double>(beside.size());
  }
  return sky;
}

} // namespace lowspot::terrain
