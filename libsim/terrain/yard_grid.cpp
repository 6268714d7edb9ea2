#include <lowspot/terrain/yard_grid.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/base/error.hpp>
#include <lowspot/base/limits.hpp>
#include <lowspot/base/memory.hpp>
#include <lowspot/base/quantity.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/site/cell_size.hpp>

namespace lowspot::terrain {

double choose_cell(const site::Site& site, double wanted, std::vector<site::Assumption>& assumptions) {
  if (!std::isnan(wanted)) return wanted;
  if (!std::isnan(site.cell)) return site.cell;
  const std::string size = site::default_cell(bounds(site.outline), site.units);
  assumptions.push_back({"site.cell", size, "default"});
  return parse_quantity(size, Dimension::length).value;
}

Grid make_grid(const site::Site& site, double cell) {
  if (!(cell > 0) || !std::isfinite(cell))
    throw InputError({site.file.string(), 0, "site.cell"}, rounded(cell) + " m", "a positive length",
                     "write it like cell = \"6 in\"");
  const Box box = bounds(site.outline);
  const double columns = std::max(1.0, std::ceil((box.high.x - box.low.x) / cell - 1e-6));
  const double rows = std::max(1.0, std::ceil((box.high.y - box.low.y) / cell - 1e-6));
  const double cells = columns * rows, bytes = cells * limits::grid_cell_bytes;
  const Where where{site.file.string(), 0, "site.cell"};
  if (cells > limits::grid_cells)
    throw InputError(
        where, rounded(cells) + " cells, which would take " + rounded(std::ceil(bytes / 1e9)) + " GB",
        "at most " + rounded(limits::grid_cells) + " cells", "choose larger cells or a smaller outline");
  require_memory(bytes, where, rounded(cells) + " cells", "choose larger cells or a smaller outline");
  return {static_cast<int>(columns), static_cast<int>(rows), cell, box.low.x, box.low.y};
}

// A centre on a side counts as a hair to the north-east of it: so of two outlines that share the side one has
// it, and neither round-off nor the place of the yard in its coordinates decides which.
Mask centres_inside(const Grid& grid, const Polygon& polygon) {
  constexpr double hair = 1e-6; // cells
  Mask inside(grid.cells(), 0);
  std::vector<double> crossings;
  for (int j = 0; j < grid.ny; ++j) {
    const double y = grid.y(j) + hair * grid.cell;
    crossings.clear();
    for (std::size_t k = 0; k < polygon.size(); ++k) {
      const Point &a = polygon[k], &b = polygon[(k + 1) % polygon.size()];
      if ((a.y > y) != (b.y > y)) crossings.push_back(a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x));
    }
    std::sort(crossings.begin(), crossings.end());
    for (std::size_t k = 0; k + 1 < crossings.size(); k += 2) {
      const double from = std::ceil((crossings[k] - grid.x0) / grid.cell - 0.5 - hair);
      const double to = std::ceil((crossings[k + 1] - grid.x0) / grid.cell - 0.5 - hair);
      for (int i = std::max(0, static_cast<int>(std::max(from, 0.0))); i < grid.nx && i < to; ++i)
        inside[grid.index(i, j)] = 1;
    }
  }
  return inside;
}

std::vector<CellKind> cell_kinds(const Grid& grid, const site::Site& site) {
  const Mask inside = centres_inside(grid, site.outline);
  std::vector<CellKind> kinds(grid.cells(), CellKind::outside);
  for (std::size_t c = 0; c < kinds.size(); ++c)
    if (inside[c]) kinds[c] = CellKind::ground;
  for (const site::Building& building : site.buildings) {
    const Mask under = centres_inside(grid, building.outline);
    for (std::size_t c = 0; c < kinds.size(); ++c)
      if (under[c]) kinds[c] = CellKind::building;
  }
  return kinds;
}

} // namespace lowspot::terrain
