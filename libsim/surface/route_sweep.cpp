#include <lowspot/surface/route_sweep.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <limits>

#include <lowspot/surface/friction.hpp>
#include <lowspot/surface/workspace.hpp>

namespace lowspot::surface {
namespace {

// Where the water surface is flatter than this, its slope is taken as this [m/m].
constexpr double least_slope = 1e-6;
// The fall to the water below, as a multiple of the depth here, from which the level here does not matter.
constexpr double steep = 20;
// Water below that stands as high is taken to stand this much lower [m].
constexpr double least_fall = 1e-6;
// However much the water below rises with the level here, this share of it counts, so that nothing heaps up.
constexpr double least_own = 0.1;
// Weight of the present step in what is smoothed over steps.
constexpr double smoothing = 0.5;
// Slope of level ground before any water has shown its own [m/m].
constexpr double first_slope = 1e-3;
// A pool this near to its brim, by its volume, is dealt with before the ground it spills onto.
constexpr double nearly_full = 0.98;

// The slopes of a slot's links with what they amount to together.
struct Fan {
  std::array<double, 8> slope{};
  double sum = 0;                 // of the slopes of all links
  double flowing = 0;             // links whose slope changes with the level here
  double inverse_root_length = 0; // |S|^(-1/2), S the slope as a vector
};

template <class Level>
Fan fan_of(const RouteGraph& graph, int s, double level, Level level_of) {
  Fan fan;
  double along_x = 0, along_y = 0;
  const int begin = graph.first_link[s], end = graph.first_link[s + 1];
  const double per_cell = 1.0 / graph.grid.cell;
  for (int k = begin; k < end; ++k) {
    const RouteLink& link = graph.links[k];
    double slope = link.slope;
    if (link.to >= 0) {
      slope = std::max((level - level_of(link.to)) * per_cell, 0.0);
      fan.flowing += slope > 0;
    }
    fan.slope[k - begin] = slope;
    fan.sum += slope;
    double& along = link.side < 2 ? along_x : along_y;
    along = std::max(along, slope);
  }
  const double length_squared = std::max(along_x * along_x + along_y * along_y, least_slope * least_slope);
  fan.inverse_root_length = std::sqrt(inverse_root(length_squared));
  return fan;
}

// Mixes the slopes found into those of the steps before, so that water does not swing between two ways.
void smooth(const RouteGraph& graph, int s, Fan& fan, RouteSlopes& slopes) {
  const int begin = graph.first_link[s], end = graph.first_link[s + 1];
  double along_x = 0, along_y = 0;
  fan.sum = fan.flowing = 0;
  for (int k = begin; k < end; ++k) {
    const RouteLink& link = graph.links[k];
    slopes.slope[k] += smoothing * (fan.slope[k - begin] - slopes.slope[k]);
    const double slope = fan.slope[k - begin] = slopes.slope[k];
    fan.sum += slope;
    fan.flowing += link.to >= 0 && slope > least_slope;
    double& along = link.side < 2 ? along_x : along_y;
    along = std::max(along, slope);
  }
  const double length_squared = std::max(along_x * along_x + along_y * along_y, least_slope * least_slope);
  fan.inverse_root_length = std::sqrt(inverse_root(length_squared));
}

// h is the depth at which the slopes were taken.
void take_slopes(const RouteGraph& graph, int s, const Fan& fan, double h, double n_squared,
                 RouteSlopes& slopes) {
  const int begin = graph.first_link[s], end = graph.first_link[s + 1];
  for (int k = begin; k < end; ++k) slopes.share[k] = fan.slope[k - begin] / fan.sum;
  slopes.conveyance[s] = fan.sum * fan.inverse_root_length * inverse_root(n_squared) / graph.grid.cell;
  slopes.own[s] = 0;
  slopes.response[s] = 0.6 * h;
  if (!(fan.flowing > 0)) return;
  const double fall = fan.sum * graph.grid.cell / fan.flowing; // to the water below, in the mean
  if (fall > steep * h) return;
  double below = 0;
  for (int k = begin; k < end; ++k)
    if (graph.links[k].to >= 0) below += slopes.share[k] * slopes.response[graph.links[k].to];
  slopes.response[s] = (2 * fall + below) / (10.0 / 3.0 * fall / h + 1);
  slopes.own[s] = std::clamp(1 - below / slopes.response[s], least_own, 1.0);
  slopes.drop[s] = fall - slopes.own[s] * h;
  slopes.conveyance[s] *= inverse_root(fall);
}

double n_squared_at(const RouteGraph& graph, int s, double h) {
  return roughness_at(h, graph.roughness_thin[s], graph.log_ratio[s], graph.vegetation[s]);
}

// What a step leaves of mobile water b [m].
double remaining(int s, double dt, double b, const RouteGraph& graph, const RoutedWater& water,
                 RouteSlopes& slopes) {
  const double a = dt * slopes.conveyance[s];
  double h = 0;
  if (slopes.own[s] == 0) {
    const double y = drained_root(a, b, slopes.root[s]);
    h = y * y * y;
    slopes.root[s] = y;
  } else {
    h = drained_depth(a, slopes.own[s], slopes.drop[s], b, water.level[s] - graph.bed[s]);
    slopes.root[s] = h * inverse_cube_root(h) * inverse_cube_root(h);
  }
  return std::min(h, b);
}

void hand_on(int s, double out, const RouteGraph& graph, RoutedPools& pools, RoutedWater& water,
             const RouteSlopes& slopes, RoutedFaces& faces) {
  double left = out;
  const int last = graph.first_link[s + 1] - 1;
  for (int k = graph.first_link[s]; k < last; ++k) {
    const double part = std::min(out * slopes.share[k], left);
    if (part > 0) faces.pass(graph.links[k], part, pools, water);
    left -= part;
  }
  if (left > 0) faces.pass(graph.links[last], left, pools, water);
}

// time [s]: for which sources act, less than dt when they have acted already.
void route_cell(int s, double dt, double time, const RouteGraph& graph, RoutedPools& pools,
                RoutedWater& water, RouteSlopes& slopes, RoutedFaces& faces) {
  const double offered = water.depth[s] + water.inflow[s] + water.supply[s] * time;
  water.inflow[s] = 0;
  const double wanted = water.sink[s] * time;
  const double taken = std::min(wanted, offered);
  water.thirst[s] = wanted - taken;
  water.taken[s] += taken;
  water.depth[s] = offered - taken;
  const double mobile = water.depth[s] - graph.storage[s];
  if (!(mobile > dry_depth)) {
    slopes.outflow[s] = 0;
    slopes.root[s] = 0;
    water.level[s] = graph.bed[s];
    return;
  }
  const double h = remaining(s, dt, mobile, graph, water, slopes);
  const double out = mobile - h;
  slopes.outflow[s] = out / dt;
  water.level[s] = graph.bed[s] + h;
  water.depth[s] -= out;
  hand_on(s, out, graph, pools, water, slopes, faces);
}

// More water for a cell that has had its turn: the balance of the whole step is taken anew and what it passes
// on beyond what it has already, is handed on.
void route_again(int s, double dt, const RouteGraph& graph, RoutedPools& pools, RoutedWater& water,
                 RouteSlopes& slopes, RoutedFaces& faces) {
  if (water.pool_of[s] >= 0 || !(water.inflow[s] > 0)) return;
  const double taken = std::min(water.thirst[s], water.inflow[s]);
  water.thirst[s] -= taken;
  water.taken[s] += taken;
  water.depth[s] += water.inflow[s] - taken;
  water.inflow[s] = 0;
  const double before = slopes.outflow[s] * dt;
  const double mobile = water.depth[s] + before - graph.storage[s];
  if (!(mobile > dry_depth)) return;
  const double out = mobile - remaining(s, dt, mobile, graph, water, slopes);
  const double more = std::clamp(out - before, 0.0, std::max(water.depth[s] - graph.storage[s], 0.0));
  slopes.outflow[s] += more / dt;
  water.depth[s] -= more;
  water.level[s] = graph.bed[s] + std::max(water.depth[s] - graph.storage[s], 0.0);
  hand_on(s, more, graph, pools, water, slopes, faces);
}

// A cell that a pool has reached before its own turn: its sources come in with the next step of the pool.
void feed_late(int s, double dt, RoutedPools& pools, RoutedWater& water) {
  RoutedPool& pool = pools.pool(water.pool_of[s]);
  const double supplied = water.supply[s] * dt;
  const double taken = std::min(water.sink[s] * dt, supplied);
  water.taken[s] += taken;
  pool.inflow += supplied - taken;
}

struct Turn { // of a pool in the order of levels
  double level;
  int depression;
};

std::vector<Turn> turns_of(const RouteGraph& graph, const RoutedPools& pools) {
  std::vector<Turn> turns;
  turns.reserve(pools.active.size());
  for (int d : pools.active) {
    const RoutedPool& pool = pools.pool(d);
    const double full = graph.tree.depressions[d].volume / graph.grid.cell_area();
    const bool spills = pool.volume + pool.last_inflow > nearly_full * full && !pool.rim.empty();
    turns.push_back({spills ? pool.rim.front().sill : pool.level, d});
  }
  std::sort(turns.begin(), turns.end(), [](const Turn& a, const Turn& b) {
    return a.level != b.level ? a.level > b.level : a.depression < b.depression;
  });
  return turns;
}

} // namespace

RouteSlopes::RouteSlopes(const RouteGraph& graph)
    : conveyance(graph.bed.size(), 0.0), own(conveyance), drop(conveyance), response(conveyance),
      root(conveyance), outflow(conveyance), through(conveyance), slope(graph.links.size(), 0.0),
      share(graph.links.size(), 0.0) {
  for (int s = 0; s < static_cast<int>(graph.bed.size()); ++s) {
    if (graph.first_link[s] == graph.first_link[s + 1]) continue;
    // On level ground as if it fell a little toward the way down.
    const Fan fan = fan_of(graph, s, graph.bed[s], [&](int t) {
      return std::min(graph.bed[t], graph.bed[s] - first_slope * graph.grid.cell);
    });
    for (int k = graph.first_link[s]; k < graph.first_link[s + 1]; ++k)
      slope[k] = fan.slope[k - graph.first_link[s]];
    take_slopes(graph, s, fan, 0.0, graph.roughness_thin[s], *this);
  }
}

double drained_root(double a, double b, double guess) {
  // The left side is convex and rises: from above Newton's method falls to the root, from below one step
  // takes it above. b^(1/3) is never below the root.
  const auto above = [b] {
    const double inverse = inverse_cube_root(b);
    return b * inverse * inverse;
  };
  if (!(b > 0)) return 0;
  double most = guess > 0 ? std::numeric_limits<double>::infinity() : above();
  double y = std::min(guess > 0 ? guess : most, most);
  for (int k = 0; k < 100; ++k) {
    const double y2 = y * y, misfit = y * y2 * (1 + a * y2) - b;
    double next = y - misfit / (y2 * (3 + 5 * a * y2));
    if (next > 1.3 * y) {
      if (std::isinf(most)) most = above();
      next = std::min(next, most);
    }
    const double change = std::abs(next - y);
    y = next;
    if (change <= 1e-7 * y) break;
  }
  return y;
}

double drained_depth(double a, double own, double drop, double b, double guess) {
  if (!(own * b + drop > 0)) return b;
  // In u = (own h + drop)^(1/2) the left side is convex and rises; u_most is never below the root.
  const double u_most = std::sqrt(own * b + drop), per_own = 1 / own;
  double u = std::sqrt(std::clamp(own * guess + drop, 0.0, own * b + drop));
  for (int k = 0; k < 100; ++k) {
    const double h = std::max((u * u - drop) * per_own, 1e-30);
    const double y = inverse_cube_root(h), power = h * h * y; // h^(5/3)
    const double misfit = h + a * power * u - b;
    const double slope = 2 * u * per_own + a * (power + (10.0 / 3.0) * u * u * h * y * per_own);
    const double next = slope > 0 ? std::min(u - misfit / slope, u_most) : u_most;
    const double change = std::abs(next - u);
    u = next;
    if (2 * u * change * per_own <= 1e-7 * h) break;
  }
  return std::clamp((u * u - drop) * per_own, 0.0, b);
}

double sweep_downhill(double dt, const RouteGraph& graph, RoutedPools& pools, RoutedWater& water,
                      RouteSlopes& slopes, RoutedFaces& faces) {
  const std::vector<Turn> turns = turns_of(graph, pools);
  std::fill(water.done.begin(), water.done.end(), char{0});
  std::size_t turn = 0;
  double greatest = 0;
  const auto next_pool = [&] {
    step_pool(turns[turn].depression, dt, graph, pools, water, faces);
    greatest = std::max(greatest, pools.pool(turns[turn].depression).outflow / dt);
    ++turn;
    // A broad rim also spills onto ground above its lowest sill, which has had its turn.
    while (!faces.late.empty()) {
      std::pop_heap(faces.late.begin(), faces.late.end(), std::greater<>());
      const int s = faces.late.back();
      faces.late.pop_back();
      route_again(s, dt, graph, pools, water, slopes, faces);
    }
  };
  const int slots = static_cast<int>(graph.bed.size());
  for (int s = 0; s < slots; ++s) {
    faces.turn = s;
    while (turn < turns.size() && turns[turn].level >= graph.bed[s]) next_pool();
    if (water.pool_of[s] >= 0) {
      if (!water.done[s]) feed_late(s, dt, pools, water);
      continue;
    }
    // A cell that a pool has just laid bare has had its sources.
    route_cell(s, dt, water.done[s] ? 0.0 : dt, graph, pools, water, slopes, faces);
    greatest = std::max(greatest, slopes.outflow[s]);
  }
  faces.turn = slots;
  while (turn < turns.size()) next_pool();
  return greatest;
}

void sweep_uphill(const RouteGraph& graph, const RoutedPools& pools, RoutedWater& water,
                  RouteSlopes& slopes) {
  const double dx = graph.grid.cell;
  const auto level_of = [&](int t) { return pools.level_at(t, water); };
  for (int s = static_cast<int>(graph.bed.size()) - 1; s >= 0; --s) {
    if (water.pool_of[s] >= 0 || !(water.level[s] > graph.bed[s])) {
      slopes.response[s] = slopes.through[s] = 0;
      continue;
    }
    const double bed = graph.bed[s];
    slopes.through[s] += smoothing * (slopes.outflow[s] - slopes.through[s]);
    double h = water.level[s] - bed;
    const double n_squared = n_squared_at(graph, s, h);
    double level = bed + h;
    Fan fan = fan_of(graph, s, level, level_of);
    if (fan.sum > least_slope) {
      // One step of Newton's method for the logarithm of the outflow.
      const double y = inverse_cube_root(h);
      const double passes = h * h * y * fan.sum * fan.inverse_root_length * inverse_root(n_squared) / dx;
      const double ratio = slopes.through[s] / passes;
      const double steepness = 5.0 / (3.0 * h) + 0.5 * fan.flowing / (fan.sum * dx);
      const double change = ratio > 0 ? 2 * (ratio - 1) / (ratio + 1) / steepness : 0.0;
      level = bed + std::max(h + change, 0.25 * h);
      fan = fan_of(graph, s, level, level_of);
    }
    if (!(fan.sum > least_slope)) { // the water below stands as high
      double lowest = std::numeric_limits<double>::infinity();
      for (int k = graph.first_link[s]; k < graph.first_link[s + 1]; ++k)
        lowest = std::min(lowest, level_of(graph.links[k].to));
      level = std::max(level, lowest) + least_fall;
      fan = fan_of(graph, s, level, level_of);
    }
    smooth(graph, s, fan, slopes);
    take_slopes(graph, s, fan, level - bed, n_squared, slopes);
    water.level[s] = level;
  }
}

} // namespace lowspot::surface
