#include <lowspot/surface/route_pools.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>

#include <lowspot/surface/friction.hpp>

namespace lowspot::surface {
namespace {

// Ground that is higher than this above the spill level no pool covers [m].
constexpr double rim_height = 0.25;
// Pools part when they have fallen this far below what parts them, so that they do not flutter [m].
constexpr double parting_fall = 1e-6;
// Two pools that touch, while water leaves them together, are one where the water over what parts them is
// this many times as deep as that over the way out: by Manning's law the surface falls there by a quarter
// of what it does at the way out, where both are as wide, and less in deeper water (h^(-10/3)). They part
// again below the second.
constexpr double deep_strait = 1.5, shallow_strait = 1.2;
// Pools that touch are level with each other where the fall between them is no more than this share of the
// depth of the water over what parts them.
constexpr double strait_fall = 0.1;
// Moving water that stands above the level of a pool by no more than this share of its depth there is part
// of it.
constexpr double stream_rise = 0.05;

} // namespace

RoutedWater::RoutedWater(const RouteGraph& graph)
    : depth(graph.bed.size() + room_at_end, 0.0), inflow(depth), level(graph.bed.begin(), graph.bed.end()),
      supply(depth), sink(depth), taken(depth), thirst(depth), done(depth.size(), 0),
      pool_of(depth.size(), -1) {
  level.resize(depth.size(), 0.0);
}

RoutedPools::RoutedPools(const RouteGraph& graph, RoutedWater& water)
    : graph_(&graph), pools_(graph.tree.depressions.size()) {
  for (std::size_t d = 0; d < pools_.size(); ++d)
    if (graph.tree.depressions[d].left < 0) start(static_cast<int>(d), water);
}

bool RoutedPools::within(int slot, int depression) const {
  const int pit = graph_->pit[slot];
  return pit >= graph_->leaf_begin[depression] && pit < graph_->leaf_end[depression];
}

double RoutedPools::level_at(int slot, const RoutedWater& water) const {
  const int d = water.pool_of[slot];
  return d < 0 ? water.level[slot] : pools_[d].level;
}

std::vector<int> RoutedPools::reach(int depression) const {
  const double highest = spill_level(depression) + rim_height;
  std::vector<int> cells;
  for (int leaf = graph_->leaf_begin[depression]; leaf < graph_->leaf_end[depression]; ++leaf)
    for (int k = graph_->first_drain[leaf]; k < graph_->first_drain[leaf + 1]; ++k) {
      if (graph_->bed[graph_->drains[k]] > highest) break;
      cells.push_back(graph_->drains[k]);
    }
  std::sort(cells.begin(), cells.end(), std::greater<>()); // slots run by falling bed
  return cells;
}

// An empty pool that covers its bottom.
void RoutedPools::start(int depression, RoutedWater& water) {
  ++spread;
  RoutedPool& pool = pools_[depression];
  pool = {};
  pool.active = true;
  pool.cells = reach(depression);
  pool.beds_below.assign(1, 0.0);
  for (int s : pool.cells) pool.beds_below.push_back(pool.beds_below.back() + graph_->bed[s]);
  pool.level = graph_->bed[pool.cells.front()];
  pool.turn = pool.turn_level = pool.level;
  while (pool.bottom < static_cast<int>(pool.cells.size()) &&
         graph_->bed[pool.cells[pool.bottom]] == pool.level)
    water.pool_of[pool.cells[pool.bottom++]] = depression;
  pool.members = pool.bottom;
  find_rim(depression);
  active.push_back(depression);
}

void RoutedPools::find_rim(int depression) {
  RoutedPool& pool = pools_[depression];
  const double highest = spill_level(depression) + rim_height;
  std::vector<RimFace> faces;
  std::vector<std::pair<int, int>> cells; // the faces of each
  for (int s : pool.cells) {
    const auto look = [&](const RouteLink& link, double sill) {
      // Walls and edges count however high: water that stands above them has no other way.
      const bool low = link.to < 0 || std::min(sill, graph_->bed[link.to]) <= highest;
      if (low && (link.to < 0 || !within(link.to, depression))) faces.push_back({link, s, sill});
    };
    const int begin = static_cast<int>(faces.size());
    for (int k = graph_->first_link[s]; k < graph_->first_link[s + 1]; ++k)
      look(graph_->links[k], graph_->bed[s]);
    for (int k = graph_->first_other[s]; k < graph_->first_other[s + 1]; ++k)
      look(graph_->other_faces[k].link, graph_->other_faces[k].sill);
    const int end = static_cast<int>(faces.size());
    if (begin == end) continue;
    std::stable_sort(faces.begin() + begin, faces.end(),
                     [](const RimFace& a, const RimFace& b) { return a.sill < b.sill; });
    cells.emplace_back(begin, end);
  }
  std::stable_sort(cells.begin(), cells.end(),
                   [&](const auto& a, const auto& b) { return faces[a.first].sill < faces[b.first].sill; });
  for (const auto& [begin, end] : cells)
    pool.rim.insert(pool.rim.end(), faces.begin() + begin, faces.begin() + end);
  pool.rim_blocks = rim_blocks(*graph_, pool.rim);
}

void RoutedPools::settle(int depression, RoutedWater& water, double lasting) {
  RoutedPool& pool = pools_[depression];
  const int all = static_cast<int>(pool.cells.size());
  const auto level_now = [&] { return (pool.volume + pool.level_beds()) / pool.level_cells(); };
  const auto film_on = [&](int s) { return water.depth[s] + water.inflow[s] - graph_->storage[s]; };
  double level = level_now();
  const auto streams = [&](int s) {
    const double stays = std::min(level, lasting);
    return film_on(s) > dry_depth && water.level[s] - stays > stream_rise * (stays - graph_->bed[s]);
  };
  // The film on a cell comes in with it, what its depressions lack is taken from the pool.
  const auto take_in = [&](int s) {
    pool.volume += film_on(s);
    water.inflow[s] = 0;
    water.depth[s] = graph_->storage[s];
    water.pool_of[s] = depression;
    ++spread;
  };
  const auto forget = [&](std::size_t stream) {
    pool.stream_beds -= graph_->bed[pool.cells[pool.streams[stream]]];
    pool.streams.erase(pool.streams.begin() + static_cast<std::ptrdiff_t>(stream));
    if (pool.streams.empty()) pool.stream_beds = 0;
  };
  for (std::size_t k = pool.streams.size(); k-- > 0;) {
    const int s = pool.cells[pool.streams[k]];
    if (!(level > graph_->bed[s]) || streams(s)) continue;
    // It would dry the pool; where some of its cells lie higher than the stream, less than nothing reaches
    // it.
    const double up_to_it = pool.level_cells() * graph_->bed[s] - pool.level_beds();
    if (!(pool.volume + film_on(s) > std::max(up_to_it, 0.0))) continue;
    take_in(s);
    forget(k);
    level = level_now();
  }
  // Rising.
  while (pool.members < all && level > graph_->bed[pool.cells[pool.members]]) {
    const int s = pool.cells[pool.members];
    const double bed = graph_->bed[s];
    if (streams(s)) {
      pool.streams.push_back(pool.members++);
      pool.stream_beds += bed;
      continue;
    }
    if (pool.volume + film_on(s) < (pool.level_cells() + 1) * bed - pool.level_beds() - bed)
      break; // it would dry the pool
    take_in(s);
    ++pool.members;
    level = level_now();
  }
  // Falling.
  while (pool.members > pool.bottom && level <= graph_->bed[pool.cells[pool.members - 1]]) {
    const int s = pool.cells[pool.members - 1];
    const auto stream = std::find(pool.streams.begin(), pool.streams.end(), pool.members - 1);
    if (stream != pool.streams.end()) {
      forget(static_cast<std::size_t>(stream - pool.streams.begin()));
      --pool.members;
      continue;
    }
    water.depth[s] = graph_->storage[s];
    water.level[s] = graph_->bed[s];
    water.pool_of[s] = -1;
    --pool.members;
    level = level_now();
  }
  pool.level = std::max(level, graph_->bed[pool.cells.front()]);
}

void RoutedPools::settle_depths(int depression, RoutedWater& water) const {
  const RoutedPool& pool = pools_[depression];
  if (!(pool.volume > 0)) return; // the depth of a dry bottom is its own
  for (int k = 0; k < pool.members; ++k) {
    const int s = pool.cells[k];
    if (water.pool_of[s] != depression) continue;
    water.depth[s] = graph_->storage[s] + std::max(pool.level - graph_->bed[s], 0.0);
  }
}

int RoutedPools::beside(int depression) const {
  const relief::Depression& whole = graph_->tree.depressions[graph_->parent[depression]];
  return whole.left == depression ? whole.right : whole.left;
}

// Whether all pools that stand in a depression have risen to a level [m above the datum].
bool RoutedPools::all_stand(int depression, double level) const {
  const relief::Depression& here = graph_->tree.depressions[depression];
  if (pools_[depression].active || here.left < 0) return pools_[depression].level >= level;
  return all_stand(here.left, level) && all_stand(here.right, level);
}

int RoutedPools::stands_in(int depression) const {
  int d = depression;
  while (graph_->parent[d] >= 0 && all_stand(d, spill_level(d)) && all_stand(beside(d), spill_level(d)))
    d = graph_->parent[d];
  return d;
}

double RoutedPools::way_out(int depression) const {
  int d = depression;
  while (graph_->parent[d] >= 0 && all_stand(beside(d), spill_level(d))) d = graph_->parent[d];
  return spill_level(d);
}

// How much water has to pass between the two halves of a depression for the sinks and sources of both to
// lower them alike [m/s over a cell].
double RoutedPools::exchange(int depression, const RoutedWater& water) const {
  const std::array<int, 2> halves = {graph_->tree.depressions[depression].left,
                                     graph_->tree.depressions[depression].right};
  std::array<double, 2> gain = {}, cells = {};
  for (const int d : {depression, halves[0], halves[1]}) {
    const RoutedPool& pool = pools_[d];
    if (!pool.active) continue;
    for (int k = 0; k < pool.members; ++k) {
      const int s = pool.cells[k];
      if (water.pool_of[s] != d) continue;
      const int half = within(s, halves[0]) ? 0 : 1;
      gain[half] += water.supply[s] - water.sink[s];
      cells[half] += 1;
    }
  }
  return std::abs(gain[0] * cells[1] - gain[1] * cells[0]) / std::max(cells[0] + cells[1], 1.0);
}

// Whether the water of a level [m above the datum] over what parts the two halves of a depression is less
// than `deep` times as deep as that over the way out, or as it must be to pass what keeps the halves level
// with a small fall. The halves do not reach far above what parts them.
bool RoutedPools::strait_is_shallow(int depression, double level, double deep,
                                    const RoutedWater& water) const {
  const relief::Depression& half = graph_->tree.depressions[graph_->tree.depressions[depression].left];
  const double over = level - half.spill_level;
  if (over >= rim_height * deep / deep_strait) return false;
  if (over < deep * (level - way_out(depression))) return true;
  // By Manning's law with a fall of strait_fall times the depth, over one face.
  const int sill = graph_->slot[half.spill_from];
  const double flow = conveyance(*graph_, sill, over / deep) *
                      std::sqrt(strait_fall * over / deep / graph_->grid.cell) / graph_->grid.cell;
  return flow < exchange(depression, water);
}

void RoutedPools::rearrange(RoutedWater& water) {
  const auto& all = graph_->tree.depressions;
  for (std::size_t k = 0; k < active.size(); ++k) { // grows while it is walked
    const int d = active[k], parent = graph_->parent[d];
    if (!pools_[d].active || parent < 0 || pools_[d].level < all[d].spill_level) continue;
    const int sibling = beside(d);
    if (!pools_[sibling].active || pools_[sibling].level < all[sibling].spill_level) continue;
    const double level = std::min(pools_[d].level, pools_[sibling].level);
    if (!strait_is_shallow(parent, level, deep_strait, water)) join(parent, water);
  }
  for (std::size_t k = 0; k < active.size(); ++k) {
    const int d = active[k];
    if (!pools_[d].active || all[d].left < 0) continue;
    if (pools_[d].level < all[all[d].left].spill_level - parting_fall ||
        strait_is_shallow(d, pools_[d].level, shallow_strait, water))
      part(d, water);
  }
  std::erase_if(active, [&](int d) { return !pools_[d].active; });
  std::sort(active.begin(), active.end());
  active.erase(std::unique(active.begin(), active.end()), active.end());
}

void RoutedPools::join(int parent, RoutedWater& water) {
  const int left = graph_->tree.depressions[parent].left, right = graph_->tree.depressions[parent].right;
  RoutedPool &a = pools_[left], &b = pools_[right];
  // All that lies under water up to what parted them becomes one; what cells between lack, the water fills.
  const std::vector<int> cells = reach(parent);
  const double sill = spill_level(left);
  const auto covered = [&](int s) { return water.pool_of[s] == left || water.pool_of[s] == right; };
  std::size_t members = 0;
  for (std::size_t k = 0; k < cells.size() && graph_->bed[cells[k]] <= sill; ++k)
    if (covered(cells[k])) members = k + 1;
  double volume = a.volume + b.volume;
  if (!(volume > 0)) return;
  for (std::size_t k = 0; k < members; ++k) {
    const int s = cells[k];
    volume += water.inflow[s];
    if (!covered(s)) volume += water.depth[s] - graph_->storage[s];
  }
  if (volume < 0) return; // too little to reach over the dry ground between them
  const double inflow = a.inflow + b.inflow, last_inflow = a.last_inflow + b.last_inflow;
  for (const RoutedPool* pool : {&a, &b})
    for (int k = 0; k < pool->members; ++k)
      if (covered(pool->cells[k])) leave(pool->cells[k], true, water);
  a = {};
  b = {};
  start(parent, water);
  RoutedPool& pool = pools_[parent];
  pool.volume = volume;
  pool.inflow = inflow;
  pool.last_inflow = last_inflow;
  for (std::size_t k = 0; k < members; ++k) {
    const int s = cells[k];
    water.inflow[s] = 0;
    water.depth[s] = graph_->storage[s];
    water.pool_of[s] = parent;
  }
  pool.members = std::max(pool.members, static_cast<int>(members));
  settle(parent, water);
  pool.turn_level = pool.level;
}

// A cell that belongs to no pool any more; what it had above its depressions is the pool's (a dry bottom
// holds what it holds).
void RoutedPools::leave(int slot, bool wet, RoutedWater& water) {
  water.pool_of[slot] = -1;
  water.level[slot] = graph_->bed[slot];
  if (wet) water.depth[slot] = graph_->storage[slot];
}

void RoutedPools::part(int depression, RoutedWater& water) {
  RoutedPool whole = std::move(pools_[depression]);
  pools_[depression] = {};
  const auto& all = graph_->tree.depressions;
  const std::array<int, 2> parts = {all[depression].left, all[depression].right};
  std::array<double, 2> volume = {0, 0};
  for (int k = 0; k < whole.members; ++k) {
    const int s = whole.cells[k];
    if (water.pool_of[s] != depression) continue;
    leave(s, whole.volume > 0, water);
    volume[within(s, parts[0]) ? 0 : 1] += std::max(whole.level - graph_->bed[s], 0.0);
  }
  // The second takes what the first leaves, so that no rounding is lost.
  volume[0] = volume[1] > 0 ? std::min(volume[0], whole.volume) : whole.volume;
  volume[1] = whole.volume - volume[0];
  for (int side = 0; side < 2; ++side) {
    const int d = parts[side];
    start(d, water);
    RoutedPool& pool = pools_[d];
    pool.volume = volume[side];
    pool.inflow = 0.5 * whole.inflow;
    pool.last_inflow = 0.5 * whole.last_inflow;
    settle(d, water);
    pool.turn_level = pool.level;
  }
}

} // namespace lowspot::surface
