#include <lowspot/terrain/coverage.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/terrain/yard_grid.hpp>

namespace lowspot::terrain {
namespace {

struct CellRange {
  int i0, i1, j0, j1; // half open
};

CellRange cells_in(const Grid& grid, const Box& box) {
  auto index = [&](double value, double origin, int limit) {
    return static_cast<int>(
        std::clamp(std::floor((value - origin) / grid.cell), -1.0, static_cast<double>(limit)));
  };
  return {std::max(0, index(box.low.x, grid.x0, grid.nx)),
          std::min(grid.nx, index(box.high.x, grid.x0, grid.nx) + 1),
          std::max(0, index(box.low.y, grid.y0, grid.ny)),
          std::min(grid.ny, index(box.high.y, grid.y0, grid.ny) + 1)};
}

Box cell_box(const Grid& grid, int i, int j) {
  return {{grid.x0 + i * grid.cell, grid.y0 + j * grid.cell},
          {grid.x0 + (i + 1) * grid.cell, grid.y0 + (j + 1) * grid.cell}};
}

// Marks every cell that a side of the polygon passes through or touches.
void mark_boundary(const Grid& grid, const Polygon& polygon, Mask& marked) {
  for (std::size_t k = 0; k < polygon.size(); ++k) {
    const Point &a = polygon[k], &b = polygon[(k + 1) % polygon.size()];
    const CellRange range = cells_in(grid, bounds({a, b}));
    for (int j = range.j0; j < range.j1; ++j) {
      // The stretch of the side within this row.
      double x_from = std::min(a.x, b.x), x_to = std::max(a.x, b.x);
      if (a.y != b.y) {
        const double low = grid.y0 + j * grid.cell, high = low + grid.cell;
        auto at = [&](double y) {
          const double share = std::clamp((y - a.y) / (b.y - a.y), 0.0, 1.0);
          return a.x + share * (b.x - a.x);
        };
        x_from = std::min(at(low), at(high));
        x_to = std::max(at(low), at(high));
      }
      // A hair wider, so that rounding never leaves a cut cell unmarked; marking one too many costs only
      // time.
      const double hair = 1e-6 * grid.cell;
      const int from =
          std::max(range.i0, static_cast<int>(std::floor((x_from - hair - grid.x0) / grid.cell)));
      const int to =
          std::min(range.i1 - 1, static_cast<int>(std::floor((x_to + hair - grid.x0) / grid.cell)));
      for (int i = from; i <= to; ++i) marked[grid.index(i, j)] = 1;
    }
  }
}

struct Side2 {
  Point a, b;
};

// x of a side's line at a height between its ends.
double x_at(const Side2& side, double y) {
  return side.a.x + (y - side.a.y) / (side.b.y - side.a.y) * (side.b.x - side.a.x);
}

// Heights within the box at which the order of the sides along a level line can change.
std::vector<double> strip_limits(const std::vector<Side2>& sides, const Box& box) {
  std::vector<double> limits = {box.low.y, box.high.y};
  auto add = [&](double y) {
    if (y > box.low.y && y < box.high.y) limits.push_back(y);
  };
  for (std::size_t p = 0; p < sides.size(); ++p) {
    const Side2& s = sides[p];
    add(s.a.y);
    add(s.b.y);
    const double rise = s.b.y - s.a.y, run = s.b.x - s.a.x;
    if (run != 0)
      for (double x : {box.low.x, box.high.x}) {
        const double share = (x - s.a.x) / run;
        if (share > 0 && share < 1) add(s.a.y + share * rise);
      }
    for (std::size_t q = p + 1; q < sides.size(); ++q) {
      const Side2& t = sides[q];
      const double cross = run * (t.b.y - t.a.y) - rise * (t.b.x - t.a.x);
      if (cross == 0) continue;
      const double share = ((t.a.x - s.a.x) * (t.b.y - t.a.y) - (t.a.y - s.a.y) * (t.b.x - t.a.x)) / cross;
      if (share >= 0 && share <= 1) add(s.a.y + share * rise);
    }
  }
  std::sort(limits.begin(), limits.end());
  return limits;
}

struct Crossing {
  double x;
  std::size_t polygon;
};

} // namespace

std::vector<double> visible_shares(const std::vector<const Polygon*>& polygons, const Box& box) {
  std::vector<double> shares(polygons.size(), 0);
  std::vector<std::vector<Side2>> sides_of(polygons.size());
  std::vector<Side2> within; // sides that may cross inside the box
  for (std::size_t p = 0; p < polygons.size(); ++p)
    for (std::size_t k = 0; k < polygons[p]->size(); ++k) {
      const Side2 side{(*polygons[p])[k], (*polygons[p])[(k + 1) % polygons[p]->size()]};
      if (std::max(side.a.y, side.b.y) < box.low.y || std::min(side.a.y, side.b.y) > box.high.y) continue;
      if (side.a.y != side.b.y) sides_of[p].push_back(side);
      if (std::max(side.a.x, side.b.x) >= box.low.x && std::min(side.a.x, side.b.x) <= box.high.x)
        within.push_back(side);
    }
  const std::vector<double> limits = strip_limits(within, box);
  std::vector<Crossing> crossings;
  std::vector<char> inside(polygons.size());
  for (std::size_t strip = 0; strip + 1 < limits.size(); ++strip) {
    const double height = limits[strip + 1] - limits[strip];
    const double y = limits[strip] + height / 2;
    if (!(height > 0)) continue;
    crossings.clear();
    for (std::size_t p = 0; p < polygons.size(); ++p)
      for (const Side2& side : sides_of[p])
        if ((side.a.y > y) != (side.b.y > y)) crossings.push_back({x_at(side, y), p});
    std::sort(crossings.begin(), crossings.end(),
              [](const Crossing& a, const Crossing& b) { return a.x < b.x; });
    std::fill(inside.begin(), inside.end(), 0);
    double x = box.low.x;
    auto advance = [&](double to) {
      const double reach = std::clamp(to, box.low.x, box.high.x);
      for (std::size_t p = polygons.size(); p-- > 0;)
        if (inside[p]) {
          shares[p] += (reach - x) * height;
          break;
        }
      x = reach;
    };
    for (const Crossing& crossing : crossings) {
      advance(crossing.x);
      inside[crossing.polygon] ^= 1;
    }
    advance(box.high.x);
  }
  return shares;
}

Coverage cover_cells(const Grid& grid, const Polygon& polygon) {
  Coverage coverage;
  Mask boundary(grid.cells(), 0);
  mark_boundary(grid, polygon, boundary);
  const Mask inside = centres_inside(grid, polygon);
  const CellRange range = cells_in(grid, bounds(polygon));
  for (int j = range.j0; j < range.j1; ++j)
    for (int i = range.i0; i < range.i1; ++i) {
      const std::size_t cell = grid.index(i, j);
      double share = inside[cell] ? 1 : 0;
      if (boundary[cell])
        share = std::min(1.0, overlap_area(polygon, cell_box(grid, i, j)) / grid.cell_area());
      if (share <= 1e-12) continue;
      coverage.cells.push_back(static_cast<int>(cell));
      coverage.fractions.push_back(share);
    }
  return coverage;
}

Polygon outside_of(const Polygon& outline, const Grid& grid) {
  // Round the grid and, by a slit that encloses nothing, round the outline the other way.
  const Point low{grid.x0 - grid.cell, grid.y0 - grid.cell},
      high{grid.x0 + (grid.nx + 1) * grid.cell, grid.y0 + (grid.ny + 1) * grid.cell};
  Polygon ring = outline;
  if (signed_area(ring) > 0) std::reverse(ring.begin(), ring.end());
  Polygon outside = {low, {high.x, low.y}, high, {low.x, high.y}, low};
  outside.insert(outside.end(), ring.begin(), ring.end());
  outside.push_back(ring.front());
  return outside;
}

std::vector<Coverage> visible_coverage(const Grid& grid, const std::vector<Polygon>& polygons) {
  std::vector<Coverage> whole;
  std::vector<int> highest(grid.cells(), -1); // topmost polygon with a share in the cell
  std::vector<int> below(grid.cells(), 0);    // number of polygons with a share
  for (std::size_t p = 0; p < polygons.size(); ++p) {
    whole.push_back(cover_cells(grid, polygons[p]));
    for (int cell : whole[p].cells) {
      highest[cell] = static_cast<int>(p);
      ++below[cell];
    }
  }
  // Polygons in each cell that more than one has a share in.
  std::vector<int> slot(grid.cells(), -1);
  std::vector<std::vector<int>> shared;
  for (std::size_t p = 0; p < polygons.size(); ++p)
    for (int cell : whole[p].cells) {
      if (below[cell] < 2) continue;
      if (slot[cell] < 0) {
        slot[cell] = static_cast<int>(shared.size());
        shared.emplace_back();
      }
      shared[slot[cell]].push_back(static_cast<int>(p));
    }
  std::vector<std::vector<double>> seen(shared.size());
  for (std::size_t cell = 0; cell < grid.cells(); ++cell) {
    if (slot[cell] < 0) continue;
    std::vector<const Polygon*> here;
    for (int p : shared[slot[cell]]) here.push_back(&polygons[p]);
    seen[slot[cell]] = visible_shares(here, cell_box(grid, grid.column(cell), grid.row(cell)));
  }
  std::vector<Coverage> visible(polygons.size());
  for (std::size_t p = 0; p < polygons.size(); ++p)
    for (std::size_t k = 0; k < whole[p].cells.size(); ++k) {
      const int cell = whole[p].cells[k];
      double share = whole[p].fractions[k];
      if (slot[cell] >= 0) {
        const std::vector<int>& here = shared[slot[cell]];
        const std::size_t at = std::find(here.begin(), here.end(), static_cast<int>(p)) - here.begin();
        share = std::min(1.0, seen[slot[cell]][at] / grid.cell_area());
        if (share <= 1e-12) continue;
      }
      visible[p].cells.push_back(cell);
      visible[p].fractions.push_back(share);
    }
  return visible;
}

} // namespace lowspot::terrain
