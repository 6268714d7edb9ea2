#include <lowspot/surface/route_sweep.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <limits>

#include <lowspot/surface/friction.hpp>
#include <lowspot/surface/route_roots.hpp>
#include <lowspot/surface/workspace.hpp>

namespace lowspot::surface {
namespace {

// Where the water surface is flatter than this, its slope is taken as this [m/m].
constexpr float least_slope = 1e-6f;
// The fall to the water below, as a multiple of the depth here, from which the level here does not matter.
constexpr float steep = 20;
// Water below that stands as high is taken to stand this much lower [m].
constexpr float least_fall = 1e-6f;
// However much the water below rises with the level here, this share of it counts, so that nothing heaps up.
constexpr float least_own = 0.1f;
// Weight of the present step in what is smoothed over steps.
constexpr float smoothing = 0.5f;
// Slope of level ground before any water has shown its own [m/m].
constexpr double first_slope = 1e-3;
// A pool this near to its brim, by its volume, is dealt with before the ground it spills onto.
constexpr double nearly_full = 0.98;
// So little less than 1 that single precision makes no more than 1 of it.
constexpr float all_shares = 1 - 4e-7f;

using Four = float __attribute__((vector_size(16)));
using FourInts = int __attribute__((vector_size(16)));
using FourLevels = double __attribute__((vector_size(32)));

LOWSPOT_INLINE Four four(const std::array<float, 4>& values) {
  const Four result = {values[0], values[1], values[2], values[3]};
  return result;
}

LOWSPOT_INLINE float sum_of(Four x) { // the same in a mirror
  return (x[0] + x[1]) + (x[2] + x[3]);
}

// What the slopes of a slot's sides, none negative, amount to together: sum / |S|^(1/2), S the slope as a
// vector, is times h^(5/3) / n the discharge.
LOWSPOT_INLINE float passes(Four slope, float sum) {
  const float along_x = larger(slope[0], slope[1]), along_y = larger(slope[2], slope[3]);
  const float length_squared = larger(along_x * along_x + along_y * along_y, least_slope * least_slope);
  return sum * __builtin_sqrtf(inverse_root(length_squared));
}

LOWSPOT_INLINE float inverse_n(const RouteGraph& graph, int s, float h) {
  if (!(h > 0.5 * graph.vegetation[s])) return static_cast<float>(graph.inverse_n_thin[s]);
  return inverse_root(
      static_cast<float>(roughness_at(h, graph.roughness_thin[s], graph.log_ratio[s], graph.vegetation[s])));
}

// Takes the slopes of a slot's sides, found at depth h [m], for the steps to come. flowing: sides whose
// slope changes with the level here.
LOWSPOT_INLINE void take_slopes(const RouteGraph& graph, int s, Four slope, float flowing, float h,
                                RouteSlopes& slopes) {
  RouteOutflow& out = slopes.slot[s];
  RouteWays& ways = slopes.ways[s];
  const float dx = static_cast<float>(graph.grid.cell), sum = sum_of(slope);
  const Four share = slope * (all_shares / sum);
  const Four responses = {slopes.response[ways.to[0]], slopes.response[ways.to[1]],
                          slopes.response[ways.to[2]], slopes.response[ways.to[3]]};
  for (int k = 0; k < 4; ++k) ways.share[k] = share[k];
  const float below = sum_of(share * responses);
  const float conveyance = passes(slope, sum) * inverse_n(graph, s, h) / dx;
  const float fall = sum * dx / flowing; // to the water below, in the mean
  const float gains = (2 * fall + below) * h, per = 10.0f / 3.0f * fall + h;
  // Where hardly any water is left, nothing follows it.
  const float own = smaller(larger(1 - below * per / larger(gains, 1e-30f), least_own), 1.0f);
  const bool matters = flowing > 0 && fall <= steep * h;
  out.own = matters ? own : 0.0f;
  out.drop = fall - own * h;
  out.conveyance = matters ? conveyance * inverse_root(fall) : conveyance;
  slopes.response[s] = matters ? gains / per : 0.6f * h;
}

// What a step leaves of mobile water b [m].
LOWSPOT_INLINE double remaining(double dt, double b, RouteOutflow& out) {
  if (!(out.conveyance > 0)) return b; // no way down
  const double a = dt * static_cast<double>(out.conveyance), guess = out.root;
  const double y = out.own == 0 ? drained_root(a, b, guess) : drained_root(a, out.own, out.drop, b, guess);
  out.root = static_cast<float>(y);
  return std::min(y * y * y, b);
}

// Returns what went, which is a hair less than `leaves` [m].
LOWSPOT_INLINE double hand_on(int s, double leaves, const RouteGraph& graph, RoutedWater& water,
                              const RouteSlopes& slopes, RoutedFaces& faces) {
  const RouteOutflow& out = slopes.slot[s];
  const RouteWays& ways = slopes.ways[s];
  std::array<double, 4> part;
  for (int k = 0; k < 4; ++k) part[k] = leaves * static_cast<double>(ways.share[k]);
  for (int k = 0; k < 4; ++k) water.inflow[ways.to[k]] += part[k]; // nothing to itself
  double *x = &faces.x[out.cell + out.row], *y = &faces.y[out.cell];
  x[0] -= part[0];
  x[1] += part[1];
  y[0] -= part[2];
  y[graph.grid.nx] += part[3];
  return (part[0] + part[1]) + (part[2] + part[3]);
}

// time [s]: for which sources act, less than dt when they have acted already. Returns the outflow [m/s].
LOWSPOT_INLINE float route_cell(int s, double dt, double per_dt, double time, const RouteGraph& graph,
                                RoutedWater& water, RouteSlopes& slopes, RoutedFaces& faces) {
  const double offered = water.depth[s] + water.inflow[s] + water.supply[s] * time;
  water.inflow[s] = 0;
  const double wanted = water.sink[s] * time;
  const double taken = std::min(wanted, offered);
  water.thirst[s] = wanted - taken;
  water.taken[s] += taken;
  const double depth = offered - taken;
  const double mobile = depth - graph.storage[s];
  RouteOutflow& out = slopes.slot[s];
  if (!(mobile > dry_depth)) {
    out.outflow = 0;
    out.root = 0;
    water.depth[s] = depth;
    water.level[s] = graph.bed[s];
    return 0;
  }
  const double h = remaining(dt, mobile, out);
  const double leaves = hand_on(s, mobile - h, graph, water, slopes, faces);
  out.outflow = static_cast<float>(leaves * per_dt);
  water.depth[s] = depth - leaves;
  water.level[s] = graph.bed[s] + h;
  return out.outflow;
}

// More water for a cell that has had its turn: the balance of the whole step is taken anew and what it passes
// on beyond what it has already, is handed on.
void route_again(int s, double dt, const RouteGraph& graph, RoutedWater& water, RouteSlopes& slopes,
                 RoutedFaces& faces) {
  if (water.pool_of[s] >= 0 || !(water.inflow[s] > 0)) return;
  const double taken = std::min(water.thirst[s], water.inflow[s]);
  water.thirst[s] -= taken;
  water.taken[s] += taken;
  water.depth[s] += water.inflow[s] - taken;
  water.inflow[s] = 0;
  RouteOutflow& out = slopes.slot[s];
  const double before = static_cast<double>(out.outflow) * dt;
  const double mobile = water.depth[s] + before - graph.storage[s];
  if (!(mobile > dry_depth)) return;
  const double leaves = mobile - remaining(dt, mobile, out);
  const double more = std::clamp(leaves - before, 0.0, std::max(water.depth[s] - graph.storage[s], 0.0));
  out.outflow += static_cast<float>(more / dt);
  water.depth[s] -= hand_on(s, more, graph, water, slopes, faces);
  water.level[s] = graph.bed[s] + std::max(water.depth[s] - graph.storage[s], 0.0);
  for (int k = 0; k < 4; ++k)
    if (slopes.ways[s].share[k] > 0 && slopes.ways[s].to[k] < faces.turn)
      faces.call_late(slopes.ways[s].to[k]);
}

// A cell that a pool has reached before its own turn: its sources come in with the next step of the pool.
void feed_late(int s, double dt, RoutedPools& pools, RoutedWater& water) {
  RoutedPool& pool = pools.pool(water.pool_of[s]);
  const double supplied = water.supply[s] * dt;
  const double taken = std::min(water.sink[s] * dt, supplied);
  water.taken[s] += taken;
  pool.inflow += supplied - taken;
}

void find_turns(const RouteGraph& graph, const RoutedPools& pools, std::vector<RoutedPoolTurn>& turns) {
  turns.clear();
  for (int d : pools.active) {
    const RoutedPool& pool = pools.pool(d);
    const double full = graph.tree.depressions[d].volume / graph.grid.cell_area();
    const bool spills = pool.volume + pool.last_inflow > nearly_full * full && !pool.rim.empty();
    turns.push_back({spills ? std::max(pool.rim.front().sill, pool.level) : pool.level, d});
  }
  std::sort(turns.begin(), turns.end(), [](const RoutedPoolTurn& a, const RoutedPoolTurn& b) {
    return a.level != b.level ? a.level > b.level : a.depression < b.depression;
  });
}

// slot(k): the one that comes k-th of `count`.
template <class Slot>
LOWSPOT_INLINE double sweep(double dt, int count, Slot slot, const RouteGraph& graph, RoutedPools& pools,
                            RoutedWater& water, RouteSlopes& slopes, RoutedFaces& faces) {
  constexpr double none = -std::numeric_limits<double>::infinity();
  find_turns(graph, pools, slopes.turn);
  std::fill(water.done.begin(), water.done.end(), char{0});
  const double per_dt = 1 / dt;
  std::size_t turn = 0;
  double greatest_spill = 0;
  double next_level = slopes.turn.empty() ? none : slopes.turn.front().level;
  const auto next_pool = [&] {
    const int d = slopes.turn[turn].depression;
    step_pool(d, dt, graph, pools, water, faces);
    greatest_spill = std::max(greatest_spill, pools.pool(d).outflow / dt);
    // A broad rim also spills onto ground above its lowest sill, which has had its turn.
    while (!faces.late.empty()) {
      std::pop_heap(faces.late.begin(), faces.late.end(), std::greater<>());
      const int s = faces.late.back();
      faces.late.pop_back();
      route_again(s, dt, graph, water, slopes, faces);
    }
    next_level = ++turn < slopes.turn.size() ? slopes.turn[turn].level : none;
  };
  float greatest = 0;
  for (int k = 0; k < count; ++k) {
    const int s = slot(k);
    if (next_level >= graph.bed[s]) {
      faces.turn = s;
      while (next_level >= graph.bed[s]) next_pool();
    }
    if (water.pool_of[s] >= 0) {
      if (!water.done[s]) feed_late(s, dt, pools, water);
      continue;
    }
    // A cell that a pool has just laid bare has had its sources.
    const double time = water.done[s] ? 0.0 : dt;
    greatest = larger(greatest, route_cell(s, dt, per_dt, time, graph, water, slopes, faces));
  }
  faces.turn = static_cast<int>(graph.bed.size());
  while (turn < slopes.turn.size()) next_pool();
  water.inflow.back() = 0; // has left the yard
  return std::max(greatest_spill, static_cast<double>(greatest));
}

// The slopes over the sides of a slot under h [m] of water.
LOWSPOT_INLINE void look(const RouteGraph& graph, int s, double h, RoutedWater& water, RouteSlopes& slopes) {
  RouteOutflow& out = slopes.slot[s];
  RouteWays& ways = slopes.ways[s];
  const int outside = static_cast<int>(graph.bed.size());
  const double level = water.level[s];
  const float dx = static_cast<float>(graph.grid.cell), per_cell = 1 / dx, depth = static_cast<float>(h);
  const FourLevels below = {water.level[ways.to[0]], water.level[ways.to[1]], water.level[ways.to[2]],
                            water.level[ways.to[3]]};
  const FourInts to = {ways.to[0], ways.to[1], ways.to[2], ways.to[3]};
  const Four before = four(ways.slope), nothing = {}, lowest = nothing - 1e6f;
  const auto open = to == outside;
  const auto closed = before < nothing;
  // Of the level here above the water below, per cell.
  Four rise = __builtin_convertvector(level - below, Four) * per_cell;
  rise = open ? before : closed ? lowest : rise;
  const float highest = larger(larger(rise[0], rise[1]), larger(rise[2], rise[3]));
  const Four now = rise > nothing ? rise : nothing;
  const Four one = nothing + 1.0f;
  // One step of Newton's method for the logarithm of the outflow.
  const float flowing = sum_of((now > nothing) & ~open ? one : nothing);
  const float sum = sum_of(now), fall = sum * dx;
  const float at_present =
      depth * (out.root * out.root) * passes(now, sum) * inverse_n(graph, s, depth) * per_cell;
  const float newton = 12 * (out.through - at_present) * depth * fall /
                       ((out.through + at_present) * (10 * fall + 3 * depth * flowing));
  float change = highest > least_slope && out.through > 0 ? larger(newton, -0.75f * depth) : 0.0f;
  // Where the water below stands as high, the level here must rise to it.
  change = highest + change * per_cell > least_slope ? change : least_fall - highest * dx;
  const Four moved = rise + change * per_cell, next = moved > nothing ? moved : nothing;
  const Four smoothed = before + smoothing * (next - before);
  const Four kept = open | closed ? before : smoothed;
  for (int k = 0; k < 4; ++k) ways.slope[k] = kept[k];
  const Four falls = kept > nothing ? kept : nothing;
  take_slopes(graph, s, falls, sum_of((falls > nothing) & ~open ? one : nothing), depth + change, slopes);
  water.level[s] = level + static_cast<double>(change);
}

} // namespace

RouteSlopes::RouteSlopes(const RouteGraph& graph)
    : slot(graph.bed.size()), ways(graph.bed.size()), response(graph.bed.size() + 1, 0.0f) {
  const int slots = static_cast<int>(graph.bed.size());
  for (int s = 0; s < slots; ++s) {
    slot[s].cell = graph.cell[s];
    slot[s].row = graph.grid.row(graph.cell[s]);
    ways[s].to.fill(s);
    ways[s].slope.fill(no_way);
    ways[s].share.fill(0);
    Four falls = {};
    float flowing = 0;
    for (int k = graph.first_link[s]; k < graph.first_link[s + 1]; ++k) {
      const RouteLink& link = graph.links[k];
      ways[s].to[link.side] = link.to < 0 ? slots : link.to;
      // On level ground as if it fell a little toward the way down.
      falls[link.side] = ways[s].slope[link.side] = static_cast<float>(
          link.to < 0 ? link.slope
                      : std::max((graph.bed[s] - graph.bed[link.to]) / graph.grid.cell, first_slope));
      flowing += link.to < 0 ? 0.0f : 1.0f;
    }
    if (graph.first_link[s] < graph.first_link[s + 1]) take_slopes(graph, s, falls, flowing, 0.0f, *this);
  }
}

double sweep_downhill(double dt, const RouteGraph& graph, RoutedPools& pools, RoutedWater& water,
                      RouteSlopes& slopes, RoutedFaces& faces) {
  const auto all = [](int k) { return k; };
  return sweep(dt, static_cast<int>(graph.bed.size()), all, graph, pools, water, slopes, faces);
}

double sweep_downhill(double dt, std::span<const int> wet, const RouteGraph& graph, RoutedPools& pools,
                      RoutedWater& water, RouteSlopes& slopes, RoutedFaces& faces) {
  const auto listed = [&](int k) { return wet[k]; };
  return sweep(dt, static_cast<int>(wet.size()), listed, graph, pools, water, slopes, faces);
}

void sweep_uphill(const RouteGraph& graph, const RoutedPools& pools, RoutedWater& water,
                  RouteSlopes& slopes) {
  for (int d : pools.active) {
    const RoutedPool& pool = pools.pool(d);
    for (int k = 0; k < pool.members; ++k) water.level[pool.cells[k]] = pool.level;
  }
  for (int s = static_cast<int>(graph.bed.size()) - 1; s >= 0; --s) {
    const double h = water.level[s] - graph.bed[s];
    RouteOutflow& out = slopes.slot[s];
    if (!(h > 0) || water.pool_of[s] >= 0 || out.conveyance == 0) {
      slopes.response[s] = out.through = 0;
      continue;
    }
    out.through += smoothing * (out.outflow - out.through);
    look(graph, s, h, water, slopes);
  }
}

} // namespace lowspot::surface
