// Time a cell of the hierarchy of depressions on a fractal ground, from ten thousand to ten million cells,
// and against a plain fill with a priority queue (which gives the filled surface alone, no hierarchy). The
// machine may be shared, so times are thread CPU time, the best of several.
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <queue>
#include <random>
#include <vector>

#include "cpu_seconds.hpp"

#include <lowspot/relief/depression_tree.hpp>
#include <lowspot/relief/ordered_cells.hpp>

using namespace lowspot;

namespace {

// A sloping lot with bumps of every size down to the cell.
Field fractal(int n) {
  std::mt19937 random(1);
  std::uniform_real_distribution<double> unit(-1, 1);
  Field z(static_cast<std::size_t>(n) * n);
  for (int j = 0; j < n; ++j)
    for (int i = 0; i < n; ++i) z[static_cast<std::size_t>(j) * n + i] = 0.02 * i * 0.1;
  for (int size = n / 4; size >= 1; size /= 4) {
    const int knots = n / size + 2;
    Field bumps(static_cast<std::size_t>(knots) * knots);
    for (double& bump : bumps) bump = unit(random) * 0.02 * std::sqrt(size * 0.1);
    for (int j = 0; j < n; ++j)
      for (int i = 0; i < n; ++i) {
        const int a = i / size, b = j / size;
        const double u = static_cast<double>(i % size) / size, v = static_cast<double>(j % size) / size;
        const double* knot = &bumps[static_cast<std::size_t>(b) * knots + a];
        z[static_cast<std::size_t>(j) * n + i] +=
            (1 - v) * ((1 - u) * knot[0] + u * knot[1]) + v * ((1 - u) * knot[knots] + u * knot[knots + 1]);
      }
  }
  return z;
}

std::vector<relief::OpenFace> open_limits(const Grid& grid) {
  std::vector<relief::OpenFace> open;
  for (int k = 0; k < grid.nx; ++k) {
    open.push_back({static_cast<int>(grid.index(0, k)), 0});
    open.push_back({static_cast<int>(grid.index(grid.nx - 1, k)), 1});
    open.push_back({static_cast<int>(grid.index(k, 0)), 2});
    open.push_back({static_cast<int>(grid.index(k, grid.ny - 1)), 3});
  }
  return open;
}

// Volume of all depressions by flooding inward from the limits (priority-flood with a binary heap).
double plain_fill(const Grid& grid, const Field& z, const std::vector<relief::OpenFace>& open) {
  using Entry = std::pair<double, int>;
  std::priority_queue<Entry, std::vector<Entry>, std::greater<>> queue;
  Field level(z.size(), -1e300);
  for (const relief::OpenFace& face : open) {
    if (level[face.cell] > -1e300) continue;
    level[face.cell] = z[face.cell];
    queue.emplace(z[face.cell], face.cell);
  }
  double sum = 0;
  while (!queue.empty()) {
    const double w = queue.top().first;
    const int cell = queue.top().second;
    queue.pop();
    sum += w - z[cell];
    const int i = grid.column(cell), j = grid.row(cell);
    const auto look = [&](bool exists, int other) {
      if (!exists || level[other] > -1e300) return;
      level[other] = std::max(w, z[other]);
      queue.emplace(level[other], other);
    };
    look(i > 0, cell - 1);
    look(i + 1 < grid.nx, cell + 1);
    look(j > 0, cell - grid.nx);
    look(j + 1 < grid.ny, cell + grid.nx);
  }
  return sum * grid.cell_area();
}

} // namespace

int main() {
  std::printf("%10s %12s %12s %12s %8s %12s\n", "cells", "sort ns", "hierarchy ns", "plain ns", "ratio",
              "volumes");
  double first_time = 0, first_cells = 0, last_time = 0, last_cells = 0;
  for (const int n : {100, 316, 1000, 3162}) {
    const Grid grid{n, n, 0.1, 0, 0};
    const Field z = fractal(n);
    const Mask active(grid.cells(), 1);
    const auto open = open_limits(grid);
    const double cells = static_cast<double>(grid.cells());
    double sort = 1e300, tree_time = 1e300, plain = 1e300, tree_volume = 0, plain_volume = 0;
    for (int repeat = 0; repeat < (n > 1000 ? 2 : 5); ++repeat) {
      double start = cpu_seconds();
      const auto order = relief::ordered_cells(active, z);
      sort = std::min(sort, cpu_seconds() - start);
      start = cpu_seconds();
      const auto tree = relief::build_depression_tree({grid, active, z, {}, {}, open});
      tree_time = std::min(tree_time, cpu_seconds() - start);
      tree_volume = 0;
      for (int d : tree.finished) tree_volume += tree.depressions[d].volume;
      start = cpu_seconds();
      plain_volume = plain_fill(grid, z, open);
      plain = std::min(plain, cpu_seconds() - start);
    }
    std::printf("%10.0f %12.1f %12.1f %12.1f %8.2f %12.2e\n", cells, 1e9 * sort / cells,
                1e9 * tree_time / cells, 1e9 * plain / cells, plain / tree_time,
                tree_volume / plain_volume - 1);
    if (first_cells == 0) {
      first_cells = cells;
      first_time = tree_time;
    }
    last_cells = cells;
    last_time = tree_time;
  }
  std::printf("time grows as cells to the power %.2f\n",
              std::log(last_time / first_time) / std::log(last_cells / first_cells));
}
