#include <lowspot/surface/route_pool_turns.hpp>

#include <algorithm>

namespace lowspot::surface {
namespace {

// A pool this near to its brim, by its volume, is dealt with before the ground it spills onto.
constexpr double nearly_full = 0.98;

// When a pool must have its turn at the latest [m above the datum].
double latest_turn(int depression, const RouteGraph& graph, const RoutedPools& pools,
                   const RoutedWater& water) {
  const RoutedPool& one = pools.pool(depression);
  int last = one.members - 1;
  while (last > 0 && water.pool_of[one.cells[last]] != depression) --last; // streams
  const double covers = std::max(one.turn_level, graph.bed[one.cells[last]]);
  const double full = graph.tree.depressions[depression].volume / graph.grid.cell_area();
  const bool spills = one.volume + one.last_inflow > nearly_full * full && !one.rim.empty();
  return spills ? std::max(one.rim.front().sill, covers) : covers;
}

// The pools that stand in a depression, those farther from a slot in it first.
void list_toward(int exit, int depression, const RouteGraph& graph, const RoutedPools& pools,
                 std::vector<int>& listed) {
  const relief::Depression& here = graph.tree.depressions[depression];
  if (pools.pool(depression).active || here.left < 0) {
    listed.push_back(depression);
    return;
  }
  const bool out_left = pools.within(exit, here.left);
  const int near = out_left ? here.left : here.right, far = out_left ? here.right : here.left;
  list_toward(graph.slot[graph.tree.depressions[far].spill_from], far, graph, pools, listed);
  list_toward(exit, near, graph, pools, listed);
}

} // namespace

void order_pools(const RouteGraph& graph, RoutedPools& pools, const RoutedWater& water) {
  std::vector<int> wholes, listed;
  for (const int d : pools.active) {
    RoutedPool& pool = pools.pool(d);
    pool.turn = latest_turn(d, graph, pools, water);
    pool.turn_rank = 0;
    const int whole = pools.stands_in(d);
    if (whole != d) wholes.push_back(whole);
  }
  std::sort(wholes.begin(), wholes.end());
  wholes.erase(std::unique(wholes.begin(), wholes.end()), wholes.end());
  for (const int whole : wholes) {
    const int from = graph.tree.depressions[whole].spill_from;
    listed.clear();
    // A closed one has no way out: toward its lowest ground.
    list_toward(graph.slot[from >= 0 ? from : graph.tree.depressions[whole].bottom_cell], whole, graph, pools,
                listed);
    for (std::size_t k = listed.size() - 1; k-- > 0;) {
      RoutedPool& pool = pools.pool(listed[k]);
      pool.turn = std::max(pool.turn, pools.pool(listed[k + 1]).turn);
    }
    for (std::size_t k = 0; k < listed.size(); ++k) pools.pool(listed[k]).turn_rank = static_cast<int>(k);
  }
}

} // namespace lowspot::surface
