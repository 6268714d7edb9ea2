#include <lowspot/terrain/pools.hpp>

#include <algorithm>

namespace lowspot::terrain {
namespace {

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
  pools.push_back({root, highest_ground(ground, bottom_cell), bottom_cell, -1, false, true});
}

std::vector<Pool> list_pools(const Ground& ground, const DepressionTree& tree, double least_depth) {
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

} // namespace

Pools outermost_pools(const Ground& ground, const DepressionTree& tree, double least_depth) {
  Pools result;
  result.pools = list_pools(ground, tree, least_depth);
  result.of_leaf = pool_of_leaf(tree, result.pools);
  return result;
}

int pit_of_reported(const DepressionTree& tree, const Pools& all, int pit) {
  for (std::size_t steps = 0; steps <= all.pools.size(); ++steps) {
    if (pit < 0 || all.of_leaf[pit] < 0) return -1;
    const Pool& pool = all.pools[all.of_leaf[pit]];
    if (pool.reported) return pit;
    if (pool.to < 0) return -1;
    pit = tree.pit[pool.to];
  }
  return -1;
}

void flood(const Ground& ground, int start, double level, Mask& seen, std::vector<int>& cells,
           double& volume) {
  const Grid& grid = ground.grid;
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
  volume = sum * grid.cell_area();
}

} // namespace lowspot::terrain
