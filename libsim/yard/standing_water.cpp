#include <lowspot/yard/standing_water.hpp>

#include <algorithm>
#include <limits>

namespace lowspot::yard {
namespace {
constexpr double rise_over_buried = 3; // of the level at a buried outlet over that of the water on the ground
} // namespace

double standing_depth(const terrain::Ground& ground, std::span<const double> depth, int cell) {
  const double bed = ground.elevation[cell];
  const double here = bed + depth[cell];
  if (!(depth[cell] > 0)) return 0;
  const Grid& grid = ground.grid;
  const int i = grid.column(cell), j = grid.row(cell);
  double lowest = here;
  const auto beside = [&](int di, int dj, double crest) {
    if (!grid.inside(i + di, j + dj)) return;
    const std::size_t other = grid.index(i + di, j + dj);
    if (ground.active[other] && crest < here)
      lowest = std::min(lowest, std::max(crest, ground.elevation[other] + depth[other]));
  };
  beside(-1, 0, ground.crest_x[grid.x_face(i, j)]);
  beside(1, 0, ground.crest_x[grid.x_face(i + 1, j)]);
  beside(0, -1, ground.crest_y[grid.y_face(i, j)]);
  beside(0, 1, ground.crest_y[grid.y_face(i, j + 1)]);
  return std::max(0.0, lowest - bed);
}

double level_at_outlet(double ground, double depth, double rim) {
  if (!(depth > 0)) return -std::numeric_limits<double>::infinity();
  return std::min(ground + depth, rim + rise_over_buried * depth);
}

} // namespace lowspot::yard
