#include <lowspot/terrain/plane_works.hpp>

#include <algorithm>
#include <cmath>
#include <optional>
#include <set>
#include <vector>

#include <lowspot/base/error.hpp>
#include <lowspot/terrain/coverage.hpp>
#include <lowspot/terrain/plane.hpp>
#include <lowspot/terrain/slabs.hpp>
#include <lowspot/terrain/yard_grid.hpp>

namespace lowspot::terrain {
namespace {

constexpr double hair = 1e-9; // of a cell

Point middle_of(const Grid& grid, std::size_t cell) {
  return {grid.x(grid.column(cell)), grid.y(grid.row(cell))};
}

Plane plane_of(const site::Site& site, const site::Regrade& work) {
  const std::optional<Plane> plane = fit_plane(work.surface);
  if (!plane)
    throw InputError({site.file.string(), work.line, "design.regrade"}, "levels on one line",
                     "three levels that span a plane", "give a third one to the side");
  return *plane;
}

// Outlines that no plane counts on: slabs, what lies beyond the yard, buildings.
std::vector<Polygon> kept_as_they_are(const site::Site& site, const Grid& grid) {
  std::vector<Polygon> kept;
  for (const site::Area& area : site.areas)
    if (area.impervious) kept.push_back(area.outline);
  kept.push_back(outside_of(site.outline, grid));
  for (const site::Building& building : site.buildings) kept.push_back(building.outline);
  return kept;
}

// Change from a cell to the next along one axis: the lesser of those on either side, of which one may be a
// step, and none where they do not agree [m].
double change_along(const Ground& ground, const Field& level, std::size_t cell, int step_i, int step_j) {
  const Grid& grid = ground.grid;
  const int i = grid.column(cell), j = grid.row(cell);
  const auto is_ground = [&](int way) {
    const int column = i + way * step_i, row = j + way * step_j;
    return grid.inside(column, row) && ground.active[grid.index(column, row)];
  };
  const auto change = [&](int way) {
    return way * (level[grid.index(i + way * step_i, j + way * step_j)] - level[cell]);
  };
  if (!is_ground(-1) && !is_ground(1)) return 0;
  const double one = change(is_ground(1) ? 1 : -1), other = change(is_ground(-1) ? -1 : 1);
  if (one * other <= 0) return 0;
  return std::abs(one) < std::abs(other) ? one : other;
}

// The middle of what an outline takes up of a cell, and the ground there.
Point3 part_of(const Ground& ground, const Field& level, std::size_t cell, const Polygon& outline) {
  const Grid& grid = ground.grid;
  const Point centre = middle_of(grid, cell);
  const double half = grid.cell / 2;
  const Polygon part =
      cut_to(outline, {{centre.x - half, centre.y - half}, {centre.x + half, centre.y + half}});
  if (part.size() < 3) return {centre.x, centre.y, level[cell]};
  const Point middle = centroid(part);
  const double right = std::clamp(middle.x - centre.x, -half, half) / grid.cell;
  const double up = std::clamp(middle.y - centre.y, -half, half) / grid.cell;
  return {centre.x + right * grid.cell, centre.y + up * grid.cell,
          level[cell] + right * change_along(ground, level, cell, 1, 0) +
              up * change_along(ground, level, cell, 0, 1)};
}

} // namespace

void lay_planes(const site::Site& site, std::span<const site::Regrade> works, const Field& before,
                Ground& ground) {
  const Grid& grid = ground.grid;
  const std::size_t cells = grid.cells();
  std::vector<Polygon> outlines;
  for (const site::Regrade& work : works) outlines.push_back(work.outline);
  const std::vector<Polygon> kept = kept_as_they_are(site, grid);
  outlines.insert(outlines.end(), kept.begin(), kept.end());
  const std::vector<Coverage> visible = visible_coverage(grid, outlines);
  Field counts(cells, 1.0);      // share of each cell that planes count on
  std::vector<int> in(cells, 0); // outlines that have a share in it
  for (std::size_t p = 0; p < visible.size(); ++p)
    for (std::size_t k = 0; k < visible[p].cells.size(); ++k) {
      const int cell = visible[p].cells[k];
      ++in[cell];
      if (p >= works.size()) counts[cell] -= visible[p].fractions[k];
    }
  const std::vector<int> slab = slabs_of(site, grid);
  ground.elevation = before;
  for (std::size_t w = 0; w < works.size(); ++w) {
    const Plane plane = plane_of(site, works[w]);
    const Mask inside = centres_inside(grid, works[w].outline);
    for (std::size_t k = 0; k < visible[w].cells.size(); ++k) {
      const std::size_t cell = visible[w].cells[k];
      if (!ground.active[cell] || slab[cell] >= 0 || counts[cell] <= hair) continue;
      const double share = std::min(1.0, visible[w].fractions[k] / counts[cell]);
      const Point centre = middle_of(grid, cell);
      if (share >= 1 - hair) {
        ground.elevation[cell] = plane.at(centre.x, centre.y);
        continue;
      }
      const Point3 part = in[cell] == 1 ? part_of(ground, before, cell, works[w].outline)
                                        : Point3{centre.x, centre.y, before[cell]};
      ground.elevation[cell] += share * (plane.at(part.x, part.y) - part.z);
    }
    constexpr double seen = 0.003; // m: as much earth as is told of
    std::set<int> in_the_way;
    for (std::size_t cell = 0; cell < cells; ++cell) {
      if (!inside[cell] || !ground.active[cell]) continue;
      const Point centre = middle_of(grid, cell);
      const double level = plane.at(centre.x, centre.y);
      if (slab[cell] < 0 && counts[cell] <= hair)
        ground.elevation[cell] = level; // a bed let into a slab
      else if (slab[cell] >= 0 && std::abs(before[cell] - level) > seen)
        in_the_way.insert(slab[cell]);
    }
    if (w + 1 < works.size()) continue;
    for (const int area : in_the_way)
      ground.warnings.push_back(
          "regrade '" + works[w].name + "': \"" + site.areas[area].name +
          "\" lies in the plane and is left as it is; end the outline at the slab, or give "
          "the slab other levels, as `surface` of its [[area]]");
  }
}

} // namespace lowspot::terrain
