#include <lowspot/surface/route_pool_step.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include <lowspot/surface/friction.hpp>

namespace lowspot::surface {
namespace {

// The level to which a pool spills is found when it would change no more than this [m], or this share of the
// head over the rim.
constexpr double least_change = 1e-9, relative_change = 1e-5;
// Late water that lifts a pool by less than this may wait for the next step [m].
constexpr double late_rise = 0.01;
// What such a level leaves unexplained, as a share of what stands above the sill, that does not matter.
constexpr double small_misfit = 0.01;

struct Step {
  double dt;
  const RouteGraph& graph;
  RoutedPools& pools;
  RoutedWater& water;
  RoutedFaces& faces;
};

// The bottom of a pool without moving water: every cell on its own, then what is too much fills what others
// lack. `arriving` [m summed over the cells] within `time` [s].
void wet_bottom(const Step& step, RoutedPool& pool, double time, double arriving) {
  RoutedWater& water = step.water;
  double excess = 0, lack = 0;
  for (int k = 0; k < pool.bottom; ++k) {
    const int s = pool.cells[k];
    const double offered = water.depth[s] + water.supply[s] * time + arriving / pool.bottom;
    const double taken = std::min(water.sink[s] * time, offered);
    water.taken[s] += taken;
    water.depth[s] = std::min(offered - taken, step.graph.storage[s]);
    excess += std::max(offered - taken - step.graph.storage[s], 0.0);
    lack += step.graph.storage[s] - water.depth[s];
  }
  if (excess > 0 && lack > 0) {
    const double filled = std::min(excess / lack, 1.0);
    for (int k = 0; k < pool.bottom; ++k) {
      const int s = pool.cells[k];
      water.depth[s] += filled * (step.graph.storage[s] - water.depth[s]);
    }
    excess = filled < 1 ? 0.0 : excess - lack;
  }
  pool.volume = excess;
}

// Lets go of the highest cells of a pool, [first, pool.members), dry since `time`.
void dry_cells(const Step& step, RoutedPool& pool, int first, double time) {
  RoutedWater& water = step.water;
  for (int k = first; k < pool.members; ++k) {
    const int s = pool.cells[k];
    if (water.pool_of[s] < 0) continue; // a stream
    water.pool_of[s] = -1;
    water.level[s] = step.graph.bed[s];
    water.depth[s] = step.graph.storage[s];
    if (water.supply[s] >= water.sink[s]) { // goes on feeding the pool
      water.taken[s] += water.sink[s] * step.dt;
      continue;
    }
    const double rest = step.dt - time;
    const double offered = water.depth[s] + water.supply[s] * rest;
    const double taken = std::min(water.sink[s] * rest, offered);
    water.taken[s] += water.sink[s] * time + taken;
    water.depth[s] = offered - taken;
  }
  while (!pool.streams.empty()) {
    const auto last = std::max_element(pool.streams.begin(), pool.streams.end());
    if (*last < first) break;
    pool.stream_beds -= step.graph.bed[pool.cells[*last]];
    pool.streams.erase(last);
  }
  if (pool.streams.empty()) pool.stream_beds = 0;
  pool.members = first;
}

// The sources of a pool with moving water.
void feed(const Step& step, RoutedPool& pool, double arriving) {
  RoutedWater& water = step.water;
  double rate = arriving / step.dt; // m/s summed over the cells
  for (int k = 0; k < pool.members; ++k) {
    const int s = pool.cells[k];
    if (water.pool_of[s] < 0) continue; // a stream
    rate += water.supply[s] - water.sink[s];
  }
  double time = 0;
  while (rate < 0) {
    const double bed = step.graph.bed[pool.cells[pool.members - 1]];
    // What the pool holds when its level has fallen to the bed of the highest cell.
    const double held = std::max(pool.level_cells() * bed - pool.level_beds(), 0.0);
    const double lasts = std::max(pool.volume - held, 0.0) / -rate;
    if (time + lasts >= step.dt) break;
    time += lasts;
    if (pool.members == pool.bottom) {
      for (int k = 0; k < pool.bottom; ++k) {
        const int s = pool.cells[k];
        water.taken[s] += water.sink[s] * time;
        water.depth[s] = step.graph.storage[s];
      }
      // Dried cells that are given more than they take feed the bottom.
      double others = rate;
      for (int k = 0; k < pool.bottom; ++k) others -= water.supply[pool.cells[k]] - water.sink[pool.cells[k]];
      wet_bottom(step, pool, step.dt - time, std::max(others, 0.0) * (step.dt - time));
      return;
    }
    pool.volume = held;
    int first = pool.members;
    while (first > pool.bottom && step.graph.bed[pool.cells[first - 1]] == bed) {
      const int s = pool.cells[--first];
      if (water.pool_of[s] >= 0) rate -= std::min(water.supply[s] - water.sink[s], 0.0);
    }
    dry_cells(step, pool, first, time);
  }
  pool.volume = std::max(pool.volume + rate * (step.dt - time), 0.0);
  for (int k = 0; k < pool.members; ++k)
    if (water.pool_of[pool.cells[k]] >= 0) water.taken[pool.cells[k]] += water.sink[pool.cells[k]] * step.dt;
}

// Whether a pool has a higher way out than this [m above the datum], or none. Late water that went back there
// would go to and fro, since each pool is dealt with by itself.
bool lies_upstream(const Step& step, int depression, double way_out) {
  return depression >= 0 &&
         (step.pools.pool(depression).rim.empty() || step.pools.way_out(depression) > way_out);
}

// Water above its sills leaves a pool: the level at the end of the step balances the volume, with what has
// left it before in this step.
void spill(const Step& step, int depression) {
  RoutedPool& pool = step.pools.pool(depression);
  const double whole = pool.volume + pool.outflow;
  const int all = pool.members;
  const double start = pool.rim.front().sill,
               exit = step.faces.again ? step.pools.way_out(depression) : start;
  int members = all, cells = pool.level_cells();
  double beds = pool.level_beds();
  const auto held_at = [&](double at) {
    const auto counts = [&](int k) { return step.water.pool_of[pool.cells[k]] >= 0; };
    for (; members < all && step.graph.bed[pool.cells[members]] < at; ++members)
      if (counts(members)) beds += step.graph.bed[pool.cells[members]], ++cells;
    for (; members > pool.bottom && step.graph.bed[pool.cells[members - 1]] >= at; --members)
      if (counts(members - 1)) beds -= step.graph.bed[pool.cells[members - 1]], --cells;
    return cells * at - beds;
  };
  // The level of the water beyond, as it is now; on the margin of a pool, with what has last come over the
  // face.
  for (RimBlock& block : pool.rim_blocks) {
    if (!(block.sill.front() < pool.level)) break;
    for (int side = 0; side < 4; ++side)
      for (int l = 0; l < rim_lanes; ++l) {
        const int face = block.face[side][l];
        if (face < 0) continue;
        const int to = pool.rim[face].link.to;
        if (to < 0) continue;
        double level_beyond = step.pools.level_at(to, step.water);
        const double over = static_cast<double>(block.flow[side][l]) * step.graph.grid.cell;
        if (step.water.pool_of[to] >= 0 && over > 0)
          level_beyond = level_on_margin(step.graph, to, level_beyond, over);
        if (step.faces.down_only && lies_upstream(step, step.water.pool_of[to], exit))
          level_beyond = std::max(level_beyond, pool.level);
        block.drop[side][l] = static_cast<float>(block.sill[l] - level_beyond);
      }
  }
  // The secant through the last two trials, Newton's method before there are two, kept between what is known
  // to be too low and too high. Begins at the level to which the pool spilled last.
  double low = start, high = pool.level, level = high, flow = 0;
  if (pool.spilled_to > low && pool.spilled_to < high) level = pool.spilled_to;
  double last_level = 0, last_misfit = 0;
  double too_low = std::numeric_limits<double>::infinity(), too_high = too_low; // misfits there
  const double above = whole - held_at(start);
  std::size_t blocks = 0;
  for (int k = 0; k < 60; ++k) {
    const Spill out = spill_over(step.graph, pool.rim_blocks, level);
    blocks = out.blocks;
    flow = out.flow;
    const double misfit = held_at(level) + step.dt * flow - whole;
    (misfit > 0 ? high : low) = level;
    double& at_end = misfit > 0 ? too_high : too_low;
    const bool stands = std::abs(misfit) > 0.5 * at_end && std::abs(misfit) > small_misfit * above;
    at_end = std::abs(misfit);
    double steepness = members + step.dt * out.slope;
    if (k > 0 && misfit != last_misfit)
      steepness = std::max((misfit - last_misfit) / (level - last_level), static_cast<double>(members));
    last_level = level;
    last_misfit = misfit;
    double next = level - misfit / steepness;
    // Where the water beyond stands as high nothing passes, a little higher much does: the secant would stand
    // still.
    if (stands || !(next > low && next < high)) next = 0.5 * (low + high);
    const double change = std::abs(next - level);
    level = next;
    if (change < least_change || (!stands && change < relative_change * (level - start))) break;
  }
  const double total = std::clamp(pool.volume - held_at(level), 0.0, pool.volume);
  pool.spilled_to = level;
  if (!(flow > 0) || !(total > 0)) return;
  double left = total;
  const RimFace* before = nullptr; // the last takes what is left, so that no rounding is lost
  double part = 0;
  for (std::size_t b = 0; b < blocks; ++b)
    for (int l = 0; l < rim_lanes; ++l)
      for (int side = 0; side < 4; ++side) {
        const double over = static_cast<double>(pool.rim_blocks[b].flow[side][l]);
        if (!(over > 0)) continue;
        if (before != nullptr) {
          step.faces.pass(before->from, before->link, part, step.pools, step.water);
          left -= part;
        }
        before = &pool.rim[pool.rim_blocks[b].face[side][l]];
        part = std::min(left, total * over / flow);
      }
  if (before == nullptr) return; // no face passes anything: the pool keeps it
  pool.volume -= total;
  pool.outflow += total;
  step.faces.pass(before->from, before->link, left, step.pools, step.water);
}

} // namespace

RoutedFaces::RoutedFaces(const RouteGraph& graph, std::size_t open_faces)
    : area(graph.grid.cell_area()), counted(graph.bed.size() + room_at_end, 0), waiting(counted),
      x(graph.grid.x_faces(), 0.0), y(graph.grid.y_faces(), 0.0), left(open_faces, 0.0) {
  for (Aligned<float>& side : passed) side.assign(graph.bed.size() + room_at_end, 0.0f);
  const int slots = static_cast<int>(graph.bed.size());
  for (int s = 0; s < slots; ++s)
    for (int k = graph.first_link[s]; k < graph.first_link[s + 1]; ++k)
      if (graph.links[k].to < 0) {
        open.push_back(graph.links[k]);
        count(graph, s);
      }
  for (const RimFace& rim : graph.other_faces)
    if (rim.link.to < 0) {
      open.push_back(rim.link);
      count(graph, rim.from);
    }
}

void RoutedFaces::count(const RouteGraph& graph, int slot) {
  if (counted[slot]) return;
  counted[slot] = 1;
  const Grid& grid = graph.grid;
  const int i = grid.column(graph.cell[slot]), j = grid.row(graph.cell[slot]);
  for (const int side : {0, 1}) {
    counted_x.push_back(static_cast<int>(grid.x_face(i + side, j)));
    counted_y.push_back(static_cast<int>(grid.y_face(i, j + side)));
  }
}

void RoutedFaces::clear() {
  for (Aligned<float>& side : passed) std::fill(side.begin(), side.end(), 0.0f);
  for (const int face : counted_x) x[face] = 0;
  for (const int face : counted_y) y[face] = 0;
  std::fill(left.begin(), left.end(), 0.0);
}

void RoutedFaces::count_left() {
  for (const RouteLink& link : open) left[link.open_face] = std::abs((link.side < 2 ? x : y)[link.face]);
}

void step_pool(int depression, double dt, const RouteGraph& graph, RoutedPools& pools, RoutedWater& water,
               RoutedFaces& faces) {
  const Step step{dt, graph, pools, water, faces};
  RoutedPool& pool = pools.pool(depression);
  double arriving = pool.inflow;
  for (int k = 0; k < pool.members; ++k) {
    const int s = pool.cells[k];
    if (water.pool_of[s] != depression) continue;
    arriving += water.inflow[s];
    water.inflow[s] = 0;
    water.done[s] = 1;
  }
  const double before = pool.level;
  pool.inflow = 0;
  pool.last_inflow = arriving;
  pool.outflow = 0;
  if (pool.volume > 0)
    feed(step, pool, arriving);
  else
    wet_bottom(step, pool, dt, arriving);
  pools.settle(depression, water, before);
  if (!pool.rim.empty() && pool.level > pool.rim.front().sill) spill(step, depression);
  pools.settle(depression, water);
  pool.turn_level = pool.level;
}

void take_late(int depression, const RouteGraph& graph, RoutedPools& pools, RoutedWater& water) {
  RoutedPool& pool = pools.pool(depression);
  double late = std::exchange(pool.inflow, 0.0);
  for (int k = 0; k < pool.members; ++k)
    if (water.pool_of[pool.cells[k]] == depression) late += std::exchange(water.inflow[pool.cells[k]], 0.0);
  if (!(late > 0)) return;
  if (!(pool.volume > 0)) {
    for (const bool evenly : {true, false})
      for (int k = 0; k < pool.bottom; ++k) {
        const int s = pool.cells[k];
        const double share = evenly ? late / (pool.bottom - k) : late;
        const double part = std::min(share, graph.storage[s] - water.depth[s]);
        water.depth[s] += part;
        late -= part;
      }
  }
  pool.volume += late;
  pools.settle(depression, water);
}

bool has_risen(const RoutedPool& pool) {
  return !pool.rim.empty() && pool.level > std::max(pool.turn_level, pool.rim.front().sill) + late_rise;
}

bool spill_again(int depression, double dt, const RouteGraph& graph, RoutedPools& pools, RoutedWater& water,
                 RoutedFaces& faces) {
  const Step step{dt, graph, pools, water, faces};
  RoutedPool& pool = pools.pool(depression);
  take_late(depression, graph, pools, water); // a cell that the pool leaves would keep it
  if (pool.rim.empty() || !(pool.level > pool.rim.front().sill)) return false;
  const double level = pool.level;
  spill(step, depression);
  pools.settle(depression, water);
  return level - pool.level > 0.5 * late_rise;
}

} // namespace lowspot::surface
