#include <lowspot/terrain/walls.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

namespace lowspot::terrain {
namespace {

void keep_each_once(std::vector<std::size_t>& faces) {
  std::sort(faces.begin(), faces.end());
  faces.erase(std::unique(faces.begin(), faces.end()), faces.end());
}

// Whole numbers n with low <= n < high, within 0 .. limit - 1.
template <class Visit>
void for_each_between(double low, double high, int limit, Visit visit) {
  const int from = static_cast<int>(std::clamp(std::ceil(low), 0.0, static_cast<double>(limit)));
  const int to = static_cast<int>(std::clamp(std::ceil(high), 0.0, static_cast<double>(limit)));
  for (int n = from; n < to; ++n) visit(n);
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
      const double i =
          std::floor(a.x + (j - a.y) / (b.y - a.y) * (b.x - a.x)); // last centre west of the wall
      if (i >= -1 && i < grid.nx) faces.x_faces.push_back(grid.x_face(static_cast<int>(i) + 1, j));
    });
    for_each_between(std::min(a.x, b.x), std::max(a.x, b.x), grid.nx, [&](int i) {
      const double j = std::floor(a.y + (i - a.x) / (b.x - a.x) * (b.y - a.y));
      if (j >= -1 && j < grid.ny) faces.y_faces.push_back(grid.y_face(i, static_cast<int>(j) + 1));
    });
  }
  keep_each_once(faces.x_faces);
  keep_each_once(faces.y_faces);
  return faces;
}

void raise_walls(const site::Site& site, Ground& ground) {
  const Grid& grid = ground.grid;
  constexpr double none = -std::numeric_limits<double>::infinity();
  ground.crest_x.assign(grid.x_faces(), none);
  ground.crest_y.assign(grid.y_faces(), none);
  auto level = [&](int i, int j) {
    if (!grid.inside(i, j) || !ground.active[grid.index(i, j)]) return none;
    return ground.elevation[grid.index(i, j)];
  };
  for (const site::Wall& wall : site.walls) {
    const WallFaces faces = faces_on(grid, wall.line);
    for (std::size_t face : faces.x_faces) {
      const int i = static_cast<int>(face % (grid.nx + 1)), j = static_cast<int>(face / (grid.nx + 1));
      const double ground_beside = std::max(level(i - 1, j), level(i, j));
      ground.crest_x[face] = std::max(ground.crest_x[face], ground_beside + wall.height);
    }
    for (std::size_t face : faces.y_faces) {
      const int i = static_cast<int>(face % grid.nx), j = static_cast<int>(face / grid.nx);
      const double ground_beside = std::max(level(i, j - 1), level(i, j));
      ground.crest_y[face] = std::max(ground.crest_y[face], ground_beside + wall.height);
    }
  }
}

} // namespace lowspot::terrain
