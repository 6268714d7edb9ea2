#include <lowspot/surface/rest.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include <lowspot/surface/calm.hpp>
#include <lowspot/surface/edges.hpp>
#include <lowspot/surface/friction.hpp>
#include <lowspot/surface/pool.hpp>
#include <lowspot/surface/tags.hpp>

namespace lowspot::surface {
namespace {

// Levels of one pool that differ by more flow on: from cell to cell they may differ by less than is looked at
// [m].
constexpr double level_from_end_to_end = 1e-3;

struct Neighbour {
  int cell = -1;
  double sill = 0; // m
};

// The neighbour over a side: 0 west, 1 east, 2 south, 3 north. None beyond the grid.
Neighbour neighbour(const Grid& grid, const Workspace& work, int cell, int side) {
  const int i = grid.column(cell), j = grid.row(cell);
  Neighbour next;
  if (side == 0 && i > 0) next.cell = cell - 1;
  if (side == 1 && i + 1 < grid.nx) next.cell = cell + 1;
  if (side == 2 && j > 0) next.cell = cell - grid.nx;
  if (side == 3 && j + 1 < grid.ny) next.cell = cell + grid.nx;
  if (next.cell < 0) return next;
  if (side < 2) {
    const std::size_t face = grid.x_face(i + side, j);
    next.sill = work.sill_x[face];
  } else {
    const std::size_t face = grid.y_face(i, j + side - 2);
    next.sill = work.sill_y[face];
  }
  return next;
}

struct Pool {
  std::vector<PoolCell> cells;
  double level = 0;
};

PoolCell pool_cell(const Workspace& work, const std::vector<double>& depth, int cell) {
  return {cell, work.bed[cell], work.storage[cell], depth[cell], work.supply[cell], work.sink[cell], 0.0};
}

// Mobile water that hangs together at one level; label holds the pool of each cell, -1 for none.
std::vector<Pool> find_pools(const Terrain& terrain, const Workspace& work, const std::vector<double>& depth,
                             std::vector<int>& label) {
  std::vector<Pool> pools;
  std::vector<int> front;
  for (std::size_t start = 0; start < depth.size(); ++start) {
    if (label[start] >= 0 || !(depth[start] - work.storage[start] > dry_depth)) continue;
    const int name = static_cast<int>(pools.size());
    pools.emplace_back();
    front.assign(1, static_cast<int>(start));
    label[start] = name;
    while (!front.empty()) {
      const int cell = front.back();
      front.pop_back();
      pools.back().cells.push_back(pool_cell(work, depth, cell));
      for (int side = 0; side < 4; ++side) {
        const Neighbour next = neighbour(terrain.grid, work, cell, side);
        if (next.cell < 0 || label[next.cell] >= 0) continue;
        if (!(depth[next.cell] - work.storage[next.cell] > dry_depth)) continue;
        if (!in_one_pool(work.level[cell], work.level[next.cell], next.sill)) continue;
        label[next.cell] = name;
        front.push_back(next.cell);
      }
    }
  }
  return pools;
}

// Fall of the surface from end to end of a pool that brings what sinks draw in one part of it from the rest,
// by Manning's law over half its size [m]. A pool counts as level while that is little.
double fall_to_sinks(const Terrain& terrain, const Workspace& work, const Pool& pool, int name,
                     const std::vector<int>& label) {
  const double cells = static_cast<double>(pool.cells.size()), dx = terrain.grid.cell;
  double draws = 0, depth = 0, roughness = 0;
  int west = terrain.grid.nx, east = 0, south = terrain.grid.ny, north = 0;
  for (const PoolCell& cell : pool.cells) {
    draws += cell.sink - cell.supply;
    depth += cell.depth - cell.storage;
    roughness += work.n_squared[work.framed(cell.cell)];
    west = std::min(west, terrain.grid.column(cell.cell));
    east = std::max(east, terrain.grid.column(cell.cell));
    south = std::min(south, terrain.grid.row(cell.cell));
    north = std::max(north, terrain.grid.row(cell.cell));
  }
  const double even = draws / cells, h = depth / cells;
  double comes = 0, faces = 0; // m3/s in all, and over how many faces
  for (const PoolCell& cell : pool.cells) {
    const auto more = [&](int c) { return work.sink[c] - work.supply[c] > even; };
    if (!more(cell.cell)) continue;
    comes += (cell.sink - cell.supply - even) * dx * dx;
    for (int side = 0; side < 4; ++side) {
      const Neighbour next = neighbour(terrain.grid, work, cell.cell, side);
      faces += next.cell >= 0 && label[next.cell] == name && !more(next.cell);
    }
  }
  if (!(comes > 0) || !(faces > 0)) return 0;
  const double q = comes / (faces * dx), inverse = inverse_cube_root(h); // m2/s
  return q * q * (roughness / cells) * (0.5 * (std::max(east - west, north - south) + 1) * dx) *
         (inverse / (h * h * h));
}

// A cell on its own after its own sources.
PoolCell alone(const Workspace& work, const std::vector<double>& depth, int cell, double dt) {
  PoolCell result = pool_cell(work, depth, cell);
  const double offered = result.depth + result.supply * dt;
  result.taken = std::min(result.sink * dt, offered);
  result.depth = offered - result.taken;
  return result;
}

bool would_flow(const Terrain& terrain, const Workspace& work, int cell, double level,
                const Neighbour& next) {
  const double other = work.level[next.cell];
  return other < level && cell != next.cell &&
         potential_squared(level, other, next.sill, work.n_squared[work.framed(cell)], terrain.grid.cell) >
             film_discharge * film_discharge;
}

// A pool that has risen spreads over its banks; false when it spills instead.
bool spread(const Terrain& terrain, const Workspace& work, const std::vector<double>& depth, double dt,
            int name, Pool& pool, std::vector<int>& label) {
  std::vector<int> front;
  for (const PoolCell& cell : pool.cells) front.push_back(cell.cell);
  while (!front.empty()) {
    const int cell = front.back();
    front.pop_back();
    for (int side = 0; side < 4; ++side) {
      const Neighbour next = neighbour(terrain.grid, work, cell, side);
      if (next.cell < 0 || label[next.cell] == name || !(pool.level - next.sill > dry_depth)) continue;
      const bool bank = next.sill - work.bed[next.cell] < dry_depth && label[next.cell] < 0;
      if (bank && extend_pool(pool.cells, alone(work, depth, next.cell, dt), pool.level)) {
        label[next.cell] = name;
        front.push_back(next.cell);
      } else if (would_flow(terrain, work, cell, pool.level, next)) {
        return false;
      }
    }
  }
  return true;
}

bool spills_over_edge(const Terrain& terrain, Workspace& work, const Outfall& outfall, double level) {
  const double before = work.level[outfall.cell];
  work.level[outfall.cell] = level;
  const bool spills = edge_flow(outfall, work, terrain.grid.cell).discharge > film_discharge;
  work.level[outfall.cell] = before;
  return spills;
}

// True when a cell outside the pools would pass on water that it is given.
bool film_would_flow(const Terrain& terrain, const Workspace& work, const std::vector<double>& depth,
                     int cell, double dt) {
  if (!(work.supply[cell] > work.sink[cell])) return false;
  const double mobile = alone(work, depth, cell, dt).depth - work.storage[cell];
  if (!(mobile > dry_depth)) return false;
  for (int side = 0; side < 4; ++side) {
    const Neighbour next = neighbour(terrain.grid, work, cell, side);
    if (next.cell >= 0 && would_flow(terrain, work, cell, work.bed[cell] + mobile, next)) return true;
  }
  return false;
}

void set_depth(Workspace& work, std::vector<double>& depth, int cell, double value) {
  depth[cell] = value;
  const double mobile = std::max(value - work.storage[cell], 0.0);
  const bool none_before = work.level[cell] == work.bed[cell];
  if (mobile == 0 && none_before) return; // all else stays as it is
  work.set_mobile(cell, mobile);
  work.deepest = std::max(work.deepest, mobile);
}

// What levelling gave to each cell [m]; negative: took from it.
std::vector<double> moved_in_pools(const Workspace& work, const std::vector<double>& before, double dt,
                                   const std::vector<Pool>& pools) {
  std::vector<double> moved(before.size(), 0.0);
  for (const Pool& pool : pools)
    for (const PoolCell& cell : pool.cells)
      moved[cell.cell] = cell.depth + cell.taken - (before[cell.cell] + work.supply[cell.cell] * dt);
  return moved;
}

// The cells outside the pools that hold or are given water: on dry days few.
std::vector<int> wet_alone(const Terrain& terrain, const Workspace& work, const std::vector<double>& depth,
                           const std::vector<int>& label) {
  std::vector<int> cells;
  for (std::size_t c = 0; c < depth.size(); ++c)
    if (terrain.active[c] && label[c] < 0 && (depth[c] > 0 || work.supply[c] > 0))
      cells.push_back(static_cast<int>(c));
  return cells;
}

// One stretch with constant rates. False, with nothing changed, when water would begin to flow.
bool rest_step(const Terrain& terrain, double dt, Workspace& work, std::vector<double>& depth,
               std::span<double> taken, Tags* tags) {
  std::vector<int> label(depth.size(), -1);
  std::vector<Pool> pools = find_pools(terrain, work, depth, label);
  std::vector<double> after(depth.size(), -1.0); // levels at the end, for the edges
  for (std::size_t p = 0; p < pools.size(); ++p) {
    double net = 0;
    if (fall_to_sinks(terrain, work, pools[p], static_cast<int>(p), label) > level_from_end_to_end)
      return false;
    for (const PoolCell& cell : pools[p].cells) net += cell.supply - cell.sink;

    pools[p].level = advance_pool(pools[p].cells, dt);
    if (net > 0 && !spread(terrain, work, depth, dt, static_cast<int>(p), pools[p], label)) return false;
    for (const PoolCell& cell : pools[p].cells)
      after[cell.cell] = cell.bed + std::max(cell.depth - cell.storage, 0.0);
  }
  const std::vector<int> films = wet_alone(terrain, work, depth, label);
  for (int cell : films)
    if (film_would_flow(terrain, work, depth, cell, dt)) return false;
  for (const Outfall& outfall : work.outfalls) {
    const double level =
        after[outfall.cell] >= 0
            ? after[outfall.cell]
            : work.bed[outfall.cell] +
                  std::max(alone(work, depth, outfall.cell, dt).depth - work.storage[outfall.cell], 0.0);
    if (level > work.level[outfall.cell] && spills_over_edge(terrain, work, outfall, level)) return false;
  }
  const std::vector<double> moved = tags ? moved_in_pools(work, depth, dt, pools) : std::vector<double>();
  work.deepest = 0;
  for (int cell : films) {
    const PoolCell result = alone(work, depth, cell, dt);
    taken[cell] += result.taken;
    set_depth(work, depth, cell, result.depth);
  }
  for (const Pool& pool : pools)
    for (const PoolCell& cell : pool.cells) {
      taken[cell.cell] += cell.taken;
      set_depth(work, depth, cell.cell, cell.depth);
    }
  if (tags) tags->rest(dt, label, moved, work.supply, depth);
  return true;
}

} // namespace

bool may_rest(const Terrain& terrain, const Workspace& work, const std::vector<double>& depth) {
  std::vector<int> label(depth.size(), -1);
  const std::vector<Pool> pools = find_pools(terrain, work, depth, label);
  for (const Pool& pool : pools) {
    const int name = static_cast<int>(&pool - pools.data());
    if (fall_to_sinks(terrain, work, pool, name, label) > level_from_end_to_end) return false;
    double lowest = std::numeric_limits<double>::infinity(), highest = -lowest;
    for (const PoolCell& cell : pool.cells) {
      lowest = std::min(lowest, work.level[cell.cell]);
      highest = std::max(highest, work.level[cell.cell]);
    }
    if (highest - lowest > level_from_end_to_end) return false;
  }
  return true;
}

double rest(const Terrain& terrain, double dt, Workspace& work, std::vector<double>& depth,
            std::span<double> taken, Tags* tags) {
  double passed = 0;
  while (passed < dt) {
    double fastest = 0;
    for (std::size_t c = 0; c < depth.size(); ++c)
      if (depth[c] - work.storage[c] > dry_depth) fastest = std::max(fastest, work.sink[c]);
    const double left = dt - passed;
    const double pieces = std::max(std::ceil(fastest * left / longest_fall * (1 - 1e-12)), 1.0);
    if (!rest_step(terrain, left / pieces, work, depth, taken, tags)) return passed;
    passed = pieces > 1 ? passed + left / pieces : dt;
  }
  return dt;
}

} // namespace lowspot::surface
