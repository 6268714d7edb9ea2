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

// The cells that a path passes through, each beside the one before: water that follows it never has to cross
// a corner.
Mask passed_by(const Grid& grid, const Polyline& path) {
  Mask passed(grid.cells(), 0);
  const double whole = length(path);
  const long steps = static_cast<long>(std::ceil(16 * whole / grid.cell)) + 1;
  const auto mark = [&](int i, int j) {
    if (grid.inside(i, j)) passed[grid.index(i, j)] = 1;
  };
  constexpr double hair = 1e-6; // as in cell_at
  int i = 0, j = 0;
  for (long k = 0; k <= steps; ++k) {
    const Point at = point_along(path, whole * static_cast<double>(k) / static_cast<double>(steps));
    const int i_now = static_cast<int>(std::floor((at.x - grid.x0) / grid.cell + hair));
    const int j_now = static_cast<int>(std::floor((at.y - grid.y0) / grid.cell + hair));
    if (k > 0 && i_now != i && j_now != j) { // over a corner: by way of the cell whose middle is nearer
      const bool along_row =
          distance_to(path, {grid.x(i_now), grid.y(j)}) <= distance_to(path, {grid.x(i), grid.y(j_now)});
      along_row ? mark(i_now, j) : mark(i, j_now);
    }
    i = i_now;
    j = j_now;
    mark(i, j);
  }
  return passed;
}

// The shape of a work: level over its width, then sloping away on both sides.
struct Profile {
  const site::Regrade& work;
  const Polyline& path;
  double downward; // 1: a swale, which cuts what lies above; -1: a berm, which fills what lies below

  // Level of the bed or crest nearest to a place, and of the shape there [m].
  double bed(const Point& at) const {
    double along = 0;
    distance_to(path, at, &along);
    return level_along(work.path, along);
  }
  double level(const Point& at) const {
    double along = 0;
    const double away = distance_to(path, at, &along);
    return level_along(work.path, along) + downward * work.side_slope * std::max(0.0, away - work.width / 2);
  }
  // Depth of earth moved over a cell whose ground is at `ground`, in the mean over its area [m]: where bed or
  // side end within the cell it is given part of the cut.
  double mean_earth(const Grid& grid, std::size_t cell, double ground) const {
    constexpr int parts = 8; // each way
    const Point middle{grid.x(grid.column(cell)), grid.y(grid.row(cell))};
    double sum = 0;
    for (int q = 0; q < parts; ++q)
      for (int p = 0; p < parts; ++p) {
        const double right = ((p + 0.5) / parts - 0.5) * grid.cell,
                     up = ((q + 0.5) / parts - 0.5) * grid.cell;
        sum += std::max(0.0, downward * (ground - level({middle.x + right, middle.y + up})));
      }
    return sum / (parts * parts);
  }
};

} // namespace

double lay_along_path(const site::Site& site, const site::Regrade& work, Ground& ground) {
  constexpr double least = 1e-9, seen = 0.003; // m: earth to move at all, and as much as is told of
  const Grid& grid = ground.grid;
  const bool cuts = work.kind == "swale";
  const double downward = cuts ? 1 : -1;
  Polyline path;
  for (const Point3& point : work.path) path.push_back({point.x, point.y});
  const Profile profile{work, path, downward};
  const std::vector<int> slab = slabs_of(site, grid);
  const Mask on_path = passed_by(grid, path);
  double drawn = 0, widened = 0; // m of earth, over all cells
  std::size_t bed_cells = 0;
  std::set<int> in_the_way;
  std::queue<std::size_t> open;
  Mask looked_at(grid.cells(), 0);
  // Shapes a cell and goes on from there, unless the ground is met.
  const auto visit = [&](std::size_t cell) {
    if (looked_at[cell] || !ground.active[cell]) return;
    looked_at[cell] = 1;
    const Point middle{grid.x(grid.column(cell)), grid.y(grid.row(cell))};
    const double mean = profile.mean_earth(grid, cell, ground.elevation[cell]);
    // Along its path it is as deep as it is drawn, however narrow: rows of cells cut in part would be a row
    // of pits.
    const double earth =
        on_path[cell] ? std::max(mean, downward * (ground.elevation[cell] - profile.bed(middle))) : mean;
    if (slab[cell] >= 0) {
      if (earth > seen) in_the_way.insert(slab[cell]);
      return;
    }
    if (earth <= least) return;
    drawn += mean;
    widened += earth - mean;
    bed_cells += on_path[cell];
    ground.elevation[cell] -= downward * earth;
    open.push(cell);
  };
  for (std::size_t cell = 0; cell < grid.cells(); ++cell)
    if (on_path[cell] ||
        distance_to(path, {grid.x(grid.column(cell)), grid.y(grid.row(cell))}) <= work.width / 2)
      visit(cell);
  while (!open.empty()) {
    const std::size_t cell = open.front();
    open.pop();
    const int i = grid.column(cell), j = grid.row(cell);
    if (i > 0) visit(grid.index(i - 1, j));
    if (i + 1 < grid.nx) visit(grid.index(i + 1, j));
    if (j > 0) visit(grid.index(i, j - 1));
    if (j + 1 < grid.ny) visit(grid.index(i, j + 1));
  }
  constexpr double much = 0.1; // of its earth
  if (widened > much * drawn && bed_cells > 0) {
    const double whole = length(path);
    const double wide = whole > 0 ? static_cast<double>(bed_cells) * grid.cell_area() / whole : grid.cell;
    ground.warnings.push_back(
        "regrade '" + work.name + "': in cells of " + site::written(grid.cell, Dimension::length, site) +
        " its " + (cuts ? "bed" : "crest") + " is " + site::written(wide, Dimension::length, site) +
        " wide, not " + site::written(work.width, Dimension::length, site) + ", and it " +
        (cuts ? "holds and carries more water" : "takes up more ground") +
        " than it will (its earth is "
        "reckoned as drawn); choose smaller cells");
  }
  for (const int area : in_the_way)
    ground.warnings.push_back("regrade '" + work.name + "': \"" + site.areas[area].name +
                              "\" stands in the way of the " + work.kind +
                              " and is left as it is; lead the path around it, make the sides steeper, or "
                              "take the slab out of the yard");
  return drawn * grid.cell_area();
}

} // namespace lowspot::terrain
