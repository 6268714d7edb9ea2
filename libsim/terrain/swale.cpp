#include <lowspot/terrain/swale.hpp>

#include <algorithm>
#include <cmath>
#include <queue>
#include <set>

#include <lowspot/base/geometry.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/site/wording.hpp>
#include <lowspot/terrain/slabs.hpp>

namespace lowspot::terrain {
namespace {

// Elevation along a line of levels at a distance from its start [m].
double level_along(const std::vector<Point3>& path, double along) {
  double passed = 0;
  for (std::size_t k = 1; k < path.size(); ++k) {
    const double piece = distance({path[k - 1].x, path[k - 1].y}, {path[k].x, path[k].y});
    if (piece > 0 && along <= passed + piece)
      return path[k - 1].z + (along - passed) / piece * (path[k].z - path[k - 1].z);
    passed += piece;
  }
  return path.back().z;
}

} // namespace

void lay_along_path(const site::Site& site, const site::Regrade& work, Ground& ground) {
  constexpr double least = 1e-9, seen = 0.003; // m: earth to move at all, and as much as is told of
  const Grid& grid = ground.grid;
  const bool cuts = work.kind == "swale";
  Polyline path;
  for (const Point3& point : work.path) path.push_back({point.x, point.y});
  const std::vector<int> slab = slabs_of(site, grid);
  const double bed = std::max(work.width / 2, 0.71 * grid.cell); // half of it: a cell wide at least
  std::set<int> in_the_way;
  std::queue<std::size_t> open;
  Mask looked_at(grid.cells(), 0);
  // Shapes a cell and goes on from there, unless the ground is met.
  const auto visit = [&](std::size_t cell) {
    if (looked_at[cell] || !ground.active[cell]) return;
    looked_at[cell] = 1;
    double along = 0;
    const double away = distance_to(path, {grid.x(grid.column(cell)), grid.y(grid.row(cell))}, &along);
    const double side = work.side_slope * std::max(0.0, away - bed);
    const double level = level_along(work.path, along) + (cuts ? side : -side);
    const double earth = (ground.elevation[cell] - level) * (cuts ? 1 : -1);
    if (slab[cell] >= 0) {
      if (earth > seen) in_the_way.insert(slab[cell]);
      return;
    }
    if (earth <= least) return;
    ground.elevation[cell] = level;
    open.push(cell);
  };
  for (std::size_t cell = 0; cell < grid.cells(); ++cell)
    if (distance_to(path, {grid.x(grid.column(cell)), grid.y(grid.row(cell))}) <= bed) visit(cell);
  while (!open.empty()) {
    const std::size_t cell = open.front();
    open.pop();
    const int i = grid.column(cell), j = grid.row(cell);
    if (i > 0) visit(grid.index(i - 1, j));
    if (i + 1 < grid.nx) visit(grid.index(i + 1, j));
    if (j > 0) visit(grid.index(i, j - 1));
    if (j + 1 < grid.ny) visit(grid.index(i, j + 1));
  }
  constexpr double much_wider = 1.25;
  if (work.width > 0 && 2 * bed > much_wider * work.width)
    ground.warnings.push_back(
        "regrade '" + work.name + "': in cells of " + site::written(grid.cell, Dimension::length, site) +
        " its " + (cuts ? "bed" : "crest") + " is " + site::written(2 * bed, Dimension::length, site) +
        " wide, not " + site::written(work.width, Dimension::length, site) +
        ", and the earth it moves is more than it will take; choose smaller cells");
  for (const int area : in_the_way)
    ground.warnings.push_back("regrade '" + work.name + "': \"" + site.areas[area].name +
                              "\" stands in the way of the " + work.kind +
                              " and is left as it is; lead the path around it, make the sides steeper, or "
                              "take the slab out of the yard");
}

} // namespace lowspot::terrain
