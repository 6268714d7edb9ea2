#include <lowspot/terrain/walls.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

namespace lowspot::terrain {
namespace {

constexpr double none = -std::numeric_limits<double>::infinity();

void sort_by_face(std::vector<FaceCrossing>& crossings) {
  std::sort(crossings.begin(), crossings.end(), [](const FaceCrossing& a, const FaceCrossing& b) {
    return a.face != b.face ? a.face < b.face : a.share < b.share;
  });
}

// Whole numbers n with low <= n < high, within 0 .. limit - 1.
template <class Visit>
void for_each_between(double low, double high, int limit, Visit visit) {
  const int from = static_cast<int>(std::clamp(std::ceil(low), 0.0, static_cast<double>(limit)));
  const int to = static_cast<int>(std::clamp(std::ceil(high), 0.0, static_cast<double>(limit)));
  for (int n = from; n < to; ++n) visit(n);
}

// The ground of cell (i, j) carried on, against the direction (step_i, step_j) in which its neighbours are
// looked at, by a share of a cell [m]; minus infinity where it is no ground. By the lesser of the last two
// changes, since one of them may be a step, and level where they do not agree.
double carried_on(const Ground& ground, int i, int j, int step_i, int step_j, double share) {
  const Grid& grid = ground.grid;
  const auto is_ground = [&](int away) {
    const int column = i + away * step_i, row = j + away * step_j;
    return grid.inside(column, row) && ground.active[grid.index(column, row)];
  };
  if (!is_ground(0)) return none;
  const auto level = [&](int away) {
    return ground.elevation[grid.index(i + away * step_i, j + away * step_j)];
  };
  if (!is_ground(1)) return level(0);
  const double last = level(0) - level(1), before = is_ground(2) ? level(1) - level(2) : last;
  if (last * before <= 0) return level(0);
  return level(0) + share * (std::abs(last) < std::abs(before) ? last : before);
}

} // namespace

WallFaces faces_on(const Grid& grid, const Polyline& line) {
  WallFaces faces;
  // In units of cells counted between centres, and moved by a hair in a direction no wall is built in, so
  // that a wall through the very centres of cells is still on one side of each.
  auto placed = [&](const Point& p) {
    return Point{(p.x - grid.x0) / grid.cell - 0.5 - 1.3e-7, (p.y - grid.y0) / grid.cell - 0.5 - 0.7e-7};
  };
  for (std::size_t k = 1; k < line.size(); ++k) {
    Point a = placed(line[k - 1]), b = placed(line[k]);
    for_each_between(std::min(a.y, b.y), std::max(a.y, b.y), grid.ny, [&](int j) {
      const double x = a.x + (j - a.y) / (b.y - a.y) * (b.x - a.x);
      const double i = std::floor(x); // last centre west of the wall
      if (i >= -1 && i < grid.nx) faces.x.push_back({grid.x_face(static_cast<int>(i) + 1, j), x - i});
    });
    for_each_between(std::min(a.x, b.x), std::max(a.x, b.x), grid.nx, [&](int i) {
      const double y = a.y + (i - a.x) / (b.x - a.x) * (b.y - a.y);
      const double j = std::floor(y);
      if (j >= -1 && j < grid.ny) faces.y.push_back({grid.y_face(i, static_cast<int>(j) + 1), y - j});
    });
  }
  sort_by_face(faces.x);
  sort_by_face(faces.y);
  return faces;
}

void raise_walls(const site::Site& site, Ground& ground) {
  const Grid& grid = ground.grid;
  ground.crest_x.assign(grid.x_faces(), none);
  ground.crest_y.assign(grid.y_faces(), none);
  for (const site::Wall& wall : site.walls) {
    const WallFaces faces = faces_on(grid, wall.line);
    for (const FaceCrossing& crossing : faces.x) {
      const int i = static_cast<int>(crossing.face % (grid.nx + 1));
      const int j = static_cast<int>(crossing.face / (grid.nx + 1));
      const double under = std::max(carried_on(ground, i - 1, j, -1, 0, crossing.share),
                                    carried_on(ground, i, j, 1, 0, 1 - crossing.share));
      ground.crest_x[crossing.face] = std::max(ground.crest_x[crossing.face], under + wall.height);
    }
    for (const FaceCrossing& crossing : faces.y) {
      const int i = static_cast<int>(crossing.face % grid.nx);
      const int j = static_cast<int>(crossing.face / grid.nx);
      const double under = std::max(carried_on(ground, i, j - 1, 0, -1, crossing.share),
                                    carried_on(ground, i, j, 0, 1, 1 - crossing.share));
      ground.crest_y[crossing.face] = std::max(ground.crest_y[crossing.face], under + wall.height);
    }
  }
}

} // namespace lowspot::terrain
