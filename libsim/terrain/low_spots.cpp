#include <lowspot/terrain/low_spots.hpp>

#include <algorithm>

#include <lowspot/terrain/low_spot_map.hpp>
#include <lowspot/terrain/pools.hpp>

namespace lowspot::terrain {
namespace {

Point centre(const Grid& grid, int cell) {
  return {grid.x(grid.column(cell)), grid.y(grid.row(cell))};
}

} // namespace

std::vector<LowSpot> list_low_spots(const Ground& ground, const DepressionTree& tree, const Pools& all,
                                    std::vector<int>& spot_of_pool) {
  // Where the water of each pit ends up, and how much ground sheds to it.
  std::vector<int> ends_in(tree.depressions.size(), -1);
  for (std::size_t d = 0; d < ends_in.size(); ++d) {
    if (tree.depressions[d].left >= 0) continue;
    const int pit = pit_of_reported(tree, all, static_cast<int>(d));
    if (pit >= 0) ends_in[d] = all.of_leaf[pit];
  }
  std::vector<double> catchment(all.pools.size(), 0);
  for (std::size_t cell = 0; cell < tree.pit.size(); ++cell) {
    const int pit = tree.pit[cell];
    if (pit >= 0 && ends_in[pit] >= 0)
      catchment[ends_in[pit]] += ground.open_sky.empty() ? 1 : ground.open_sky[cell];
  }

  std::vector<LowSpot> spots;
  std::vector<int> pool_of_spot;
  spot_of_pool.assign(all.pools.size(), 0);
  Mask seen(ground.grid.cells(), 0);
  for (std::size_t p = 0; p < all.pools.size(); ++p) {
    const Pool& pool = all.pools[p];
    if (!pool.reported) continue;
    const Depression& depression = tree.depressions[pool.depression];
    LowSpot spot;
    spot.at = centre(ground.grid, depression.bottom_cell);
    spot.bottom = depression.bottom;
    spot.spill_level = pool.level;
    spot.depth = pool.level - depression.bottom;
    spot.spill_at = centre(ground.grid, pool.from);
    spot.closed = pool.closed;
    flood(ground, depression.bottom_cell, pool.level, seen, spot.cells, spot.volume);
    spot.area = static_cast<double>(spot.cells.size()) * ground.grid.cell_area();
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
    const int to = all.pools[pool_of_spot[s]].to;
    const int pit = to < 0 ? -1 : pit_of_reported(tree, all, tree.pit[to]);
    spots[s].spills_into = pit < 0 ? 0 : spot_of_pool[all.of_leaf[pit]];
  }
  return spots;
}

std::vector<LowSpot> find_low_spots(const Ground& ground, double least_depth) {
  const DepressionTree tree = build_depression_tree(ground);
  std::vector<int> spot_of_pool;
  return list_low_spots(ground, tree, outermost_pools(ground, tree, least_depth), spot_of_pool);
}

} // namespace lowspot::terrain
