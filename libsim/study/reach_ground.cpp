#include <lowspot/study/reach_ground.hpp>

#include <algorithm>
#include <cmath>

namespace lowspot::study {

ReachGround make_reach_ground(const site::Site& site, const terrain::Ground& ground, double most_cells) {
  const Grid& fine = ground.grid;
  const int side = std::max(
      1, static_cast<int>(std::ceil(std::sqrt(static_cast<double>(fine.cells()) / most_cells) - 1e-9)));
  ReachGround result;
  result.grid = {(fine.nx + side - 1) / side, (fine.ny + side - 1) / side, fine.cell * side, fine.x0,
                 fine.y0};
  const std::size_t cells = result.grid.cells();
  result.open.assign(cells, 1);
  result.elevation.assign(cells, 0);
  result.dearness.assign(cells, 1);
  Field paved(cells, 0);
  std::vector<int> count(cells, 0);
  const auto block = [&](std::size_t cell) {
    return result.grid.index(fine.column(cell) / side, fine.row(cell) / side);
  };
  for (std::size_t c = 0; c < fine.cells(); ++c) {
    const std::size_t b = block(c);
    if (!ground.active[c]) {
      result.open[b] = 0;
      continue;
    }
    result.elevation[b] += ground.elevation[c];
    ++count[b];
  }
  for (std::size_t b = 0; b < cells; ++b) {
    if (count[b] == 0) result.open[b] = 0;
    if (count[b] > 0) result.elevation[b] /= count[b];
  }
  for (std::size_t a = 0; a < ground.areas.size() && a < site.areas.size(); ++a) {
    if (!site.areas[a].impervious) continue;
    for (std::size_t k = 0; k < ground.areas[a].cells.size(); ++k)
      paved[block(ground.areas[a].cells[k])] += ground.areas[a].fractions[k] / (side * side);
  }
  for (std::size_t b = 0; b < cells; ++b)
    result.dearness[b] = 1 + (site.reach.paving_factor - 1) * std::clamp(paved[b], 0.0, 1.0);
  return result;
}

int nearest_open(const ReachGround& ground, const Point& at, double far) {
  const Grid& grid = ground.grid;
  const int ci = static_cast<int>(std::floor((at.x - grid.x0) / grid.cell));
  const int cj = static_cast<int>(std::floor((at.y - grid.y0) / grid.cell));
  const int reach = static_cast<int>(std::ceil(far / grid.cell)) + 1;
  int best = -1;
  double nearest = 0;
  for (int j = cj - reach; j <= cj + reach; ++j)
    for (int i = ci - reach; i <= ci + reach; ++i) {
      if (!grid.inside(i, j) || !ground.open[grid.index(i, j)]) continue;
      const double gap = distance({grid.x(i), grid.y(j)}, at);
      const bool own = i == ci && j == cj;
      if (!own && gap > far) continue;
      if (best < 0 || gap < nearest - 1e-12) {
        best = static_cast<int>(grid.index(i, j));
        nearest = gap;
      }
    }
  return best;
}

} // namespace lowspot::study
