#include <lowspot/terrain/low_spots.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/terrain/depression_tree.hpp>

namespace lowspot::terrain {
namespace {

// An outermost basin together with where it spills.
struct Pool {
  int depression;
  double level;
  int from, to;
  bool reported = false;
};

// A basin whose parts meet exactly at the level at which it spills is not one pool but several: nothing but
// the order of the sweep made it one.
void split_at_level(const DepressionTree& tree, Pool pool, std::vector<Pool>& pools) {
  std::vector<int> open = {pool.depression};
  while (!open.empty()) {
    const Depression& depression = tree.depressions[open.back()];
    pool.depression = open.back();
    open.pop_back();
    if (depression.left >= 0 && tree.depressions[depression.left].spill_level == pool.level) {
      open.push_back(depression.right);
      open.push_back(depression.left);
    } else {
      pools.push_back(pool);
    }
  }
}

double highest_ground(const Ground& ground, int start) {
  // Of all the ground that can be reached from a cell of a closed basin, over walls or not.
  std::vector<int> open = {start};
  Mask seen(ground.grid.cells(), 0);
  seen[start] = 1;
  double highest = ground.elevation[start];
  while (!open.empty()) {
    const int cell = open.back();
    open.pop_back();
    highest = std::max(highest, ground.elevation[cell]);
    const int i = ground.grid.column(cell), j = ground.grid.row(cell);
    const int steps[4][2] = {{-1, 0}, {1, 0}, {0, -1}, {0, 1}};
    for (const auto& step : steps) {
      if (!ground.grid.inside(i + step[0], j + step[1])) continue;
      const std::size_t other = ground.grid.index(i + step[0], j + step[1]);
      if (!ground.active[other] || seen[other]) continue;
      seen[other] = 1;
      open.push_back(static_cast<int>(other));
    }
  }
  return highest;
}

// Ground that nothing leaves fills as a whole. What is worth naming there are the two deep basins that meet
// last, each spilling into the other; where there is but one, it is full when its highest ground is under
// water.
void add_closed(const Ground& ground, const DepressionTree& tree, int root, double least_depth,
                std::vector<Pool>& pools) {
  auto depth = [&](int d) { return tree.depressions[d].spill_level - tree.depressions[d].bottom; };
  auto as_pool = [&](int d) {
    const Depression& depression = tree.depressions[d];
    return Pool{d, depression.spill_level, depression.spill_from, depression.spill_to};
  };
  std::vector<Pool> passed;
  for (int at = root; tree.depressions[at].left >= 0;) {
    int deep = tree.depressions[at].left, other = tree.depressions[at].right;
    if (depth(deep) < depth(other)) std::swap(deep, other);
    passed.push_back(as_pool(other));
    if (depth(other) > least_depth) {
      passed.push_back(as_pool(deep));
      for (const Pool& pool : passed) split_at_level(tree, pool, pools);
      return;
    }
    at = deep;
  }
  const int bottom_cell = tree.depressions[root].bottom_cell;
  pools.push_back({root, highest_ground(ground, bottom_cell), bottom_cell, -1});
}

std::vector<Pool> outermost_pools(const Ground& ground, const DepressionTree& tree, double least_depth) {
  std::vector<Pool> pools;
  for (int d : tree.finished) {
    const Depression& depression = tree.depressions[d];
    split_at_level(tree, {d, depression.spill_level, depression.spill_from, depression.spill_to}, pools);
  }
  for (int root : tree.closed) add_closed(ground, tree, root, least_depth, pools);
  for (Pool& pool : pools)
    pool.reported = pool.level - tree.depressions[pool.depression].bottom > least_depth;
  return pools;
}

std::vector<int> pool_of_leaf(const DepressionTree& tree, const std::vector<Pool>& pools) {
  std::vector<int> result(tree.depressions.size(), -1);
  std::vector<int> open;
  for (std::size_t p = 0; p < pools.size(); ++p) {
    open.assign(1, pools[p].depression);
    while (!open.empty()) {
      const int d = open.back();
      open.pop_back();
      result[d] = static_cast<int>(p);
      if (tree.depressions[d].left < 0) continue;
      open.push_back(tree.depressions[d].left);
      open.push_back(tree.depressions[d].right);
    }
  }
  return result;
}

// Cells under water when a pool is full, its area and volume.
void flood(const Ground& ground, int start, double level, Mask& seen, LowSpot& spot) {
  const Grid& grid = ground.grid;
  std::vector<int>& cells = spot.cells;
  cells.assign(1, start);
  seen[start] = 1;
  double sum = 0;
  for (std::size_t at = 0; at < cells.size(); ++at) {
    const int cell = cells[at], i = grid.column(cell), j = grid.row(cell);
    sum += level - ground.elevation[cell];
    auto look = [&](bool exists, int other, double crest) {
      if (!exists || !ground.active[other] || seen[other]) return;
      if (ground.elevation[other] >= level || crest >= level) return;
      seen[other] = 1;
      cells.push_back(other);
    };
    look(i > 0, cell - 1, ground.crest_x[grid.x_face(i, j)]);
    look(i + 1 < grid.nx, cell + 1, ground.crest_x[grid.x_face(i + 1, j)]);
    look(j > 0, cell - grid.nx, ground.crest_y[grid.y_face(i, j)]);
    look(j + 1 < grid.ny, cell + grid.nx, ground.crest_y[grid.y_face(i, j + 1)]);
  }
  spot.area = static_cast<double>(cells.size()) * grid.cell_area();
  spot.volume = sum * grid.cell_area();
}

// Follows water from pool to pool until one that is reported, or out of the yard (-1).
int reported_from_pit(const DepressionTree& tree, const std::vector<Pool>& pools,
                      const std::vector<int>& of_leaf, int pit) {
  for (std::size_t steps = 0; steps <= pools.size(); ++steps) {
    if (pit < 0 || of_leaf[pit] < 0) return -1;
    const Pool& pool = pools[of_leaf[pit]];
    if (pool.reported) return of_leaf[pit];
    if (pool.to < 0) return -1;
    pit = tree.pit[pool.to];
  }
  return -1;
}

Point centre(const Grid& grid, int cell) {
  return {grid.x(grid.column(cell)), grid.y(grid.row(cell))};
}

} // namespace

std::vector<LowSpot> find_low_spots(const Ground& ground, double least_depth) {
  const DepressionTree tree = build_depression_tree(ground);
  const std::vector<Pool> pools = outermost_pools(ground, tree, least_depth);
  const std::vector<int> of_leaf = pool_of_leaf(tree, pools);

  // Where the water of each pit ends up, and how much ground sheds to it.
  std::vector<int> ends_in(tree.depressions.size(), -1);
  for (std::size_t d = 0; d < ends_in.size(); ++d)
    if (tree.depressions[d].left < 0)
      ends_in[d] = reported_from_pit(tree, pools, of_leaf, static_cast<int>(d));
  std::vector<double> catchment(pools.size(), 0);
  for (int pit : tree.pit)
    if (pit >= 0 && ends_in[pit] >= 0) catchment[ends_in[pit]] += 1;

  std::vector<LowSpot> spots;
  std::vector<int> spot_of_pool(pools.size(), -1), pool_of_spot;
  Mask seen(ground.grid.cells(), 0);
  for (std::size_t p = 0; p < pools.size(); ++p) {
    if (!pools[p].reported) continue;
    const Depression& depression = tree.depressions[pools[p].depression];
    LowSpot spot;
    spot.at = centre(ground.grid, depression.bottom_cell);
    spot.bottom = depression.bottom;
    spot.spill_level = pools[p].level;
    spot.depth = pools[p].level - depression.bottom;
    spot.spill_at = centre(ground.grid, pools[p].from);
    flood(ground, depression.bottom_cell, pools[p].level, seen, spot);
    spot.catchment = catchment[p] * ground.grid.cell_area();
    spot.rain_to_fill = spot.volume / std::max(spot.catchment, ground.grid.cell_area());
    spot.id = static_cast<int>(p); // for now
    spots.push_back(std::move(spot));
  }
  std::stable_sort(spots.begin(), spots.end(), [](const LowSpot& a, const LowSpot& b) {
    return a.volume != b.volume ? a.volume > b.volume : a.at.y != b.at.y ? a.at.y < b.at.y : a.at.x < b.at.x;
  });
  for (std::size_t s = 0; s < spots.size(); ++s) {
    spot_of_pool[spots[s].id] = static_cast<int>(s) + 1;
    pool_of_spot.push_back(spots[s].id);
    spots[s].id = static_cast<int>(s) + 1;
  }
  for (std::size_t s = 0; s < spots.size(); ++s) {
    const int to = pools[pool_of_spot[s]].to;
    const int next = to < 0 ? -1 : reported_from_pit(tree, pools, of_leaf, tree.pit[to]);
    spots[s].spills_into = next < 0 ? 0 : spot_of_pool[next];
  }
  return spots;
}

} // namespace lowspot::terrain
