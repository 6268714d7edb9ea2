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
// Change of a depth, relative, at which Newton's method stops; the next would be that squared.
constexpr double converged = 1e-5;
// A change of outflow, relative, that does not call for another look at the slopes.
constexpr double steady = 0.02;
// Slope of level ground before any water has shown its own [m/m].
constexpr double first_slope = 1e-3;
// A pool this near to its brim, by its volume, is dealt with before the ground it spills onto.
constexpr double nearly_full = 0.98;

// The slopes of the water surface over a slot's links with what they amount to together.
struct Fan {
  std::array<double, 8> slope; // no more than four sides and as many open faces
  double sum;                  // of all links
  int flowing;                 // links whose slope changes with the level here
  double passes;               // sum / |S|^(1/2), S the slope as a vector: times h^(5/3) / n the discharge
};

double cube_root(double x) {
  const double inverse = inverse_cube_root(x);
  return x * inverse * inverse;
}

void sum_up(const RouteLink* link, int count, Fan& fan) {
  double along_x = 0, along_y = 0;
  fan.sum = 0;
  fan.flowing = 0;
  for (int k = 0; k < count; ++k) {
    const double slope = fan.slope[k];
    fan.sum += slope;
    fan.flowing += link[k].to >= 0 && slope > 0;
    double& along = link[k].side < 2 ? along_x : along_y;
    along = std::max(along, slope);
  }
  const double length_squared = std::max(along_x * along_x + along_y * along_y, least_slope * least_slope);
  fan.passes = fan.sum * std::sqrt(inverse_root(length_squared));
}

double inverse_n(const RouteGraph& graph, int s, double h) {
  if (!(h > 0.5 * graph.vegetation[s])) return graph.inverse_n_thin[s];
  return inverse_root(roughness_at(h, graph.roughness_thin[s], graph.log_ratio[s], graph.vegetation[s]));
}

// Takes a fan found at depth h [m] for the steps to come.
void take_slopes(const RouteGraph& graph, int s, const Fan& fan, double h, RouteSlopes& slopes) {
  const int begin = graph.first_link[s], count = graph.first_link[s + 1] - begin;
  const double per_sum = 1 / fan.sum;
  double below = 0;
  for (int k = 0; k < count; ++k) {
    slopes.share[begin + k] = fan.slope[k] * per_sum;
    if (graph.links[begin + k].to >= 0)
      below += fan.slope[k] * per_sum * slopes.response[graph.links[begin + k].to];
  }
  slopes.conveyance[s] = fan.passes * inverse_n(graph, s, h) / graph.grid.cell;
  slopes.own[s] = 0;
  slopes.response[s] = 0.6 * h;
  if (fan.flowing == 0) return;
  const double fall = fan.sum * graph.grid.cell / fan.flowing; // to the water below, in the mean
  if (fall > steep * h) return;
  slopes.response[s] = (2 * fall + below) * h / (10.0 / 3.0 * fall + h);
  // Where hardly any water is left, nothing follows it.
  const double follows = slopes.response[s] > 0 ? below / slopes.response[s] : 0.0;
  slopes.own[s] = std::clamp(1 - follows, least_own, 1.0);
  slopes.drop[s] = fall - slopes.own[s] * h;
  slopes.conveyance[s] *= inverse_root(fall);
}

// What a step leaves of mobile water b [m].
double remaining(int s, double dt, double b, RouteSlopes& slopes) {
  const double a = dt * slopes.conveyance[s];
  double h = 0;
  if (slopes.own[s] == 0) {
    const double y = drained_root(a, b, slopes.root[s]);
    h = y * y * y;
    slopes.root[s] = y;
  } else {
    h = drained_depth(a, slopes.own[s], slopes.drop[s], b, slopes.root[s]);
    slopes.root[s] = h > 0 ? cube_root(h) : 0.0;
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
  const double h = remaining(s, dt, mobile, slopes);
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
  const double out = mobile - remaining(s, dt, mobile, slopes);
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
    turns.push_back({spills ? std::max(pool.rim.front().sill, pool.level) : pool.level, d});
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
    const int begin = graph.first_link[s], count = graph.first_link[s + 1] - begin;
    if (count == 0) continue;
    // On level ground as if it fell a little toward the way down.
    Fan fan;
    for (int k = 0; k < count; ++k) {
      const RouteLink& link = graph.links[begin + k];
      fan.slope[k] = link.to < 0
                         ? link.slope
                         : std::max((graph.bed[s] - graph.bed[link.to]) / graph.grid.cell, first_slope);
      slope[begin + k] = fan.slope[k];
    }
    sum_up(&graph.links[begin], count, fan);
    take_slopes(graph, s, fan, 0.0, *this);
  }
}

double drained_root(double a, double b, double guess) {
  // The left side is convex and rises: from above Newton's method falls to the root, from below one step
  // takes it above. b^(1/3) is never below the root.
  if (!(b > 0)) return 0;
  double most = guess > 0 ? std::numeric_limits<double>::infinity() : cube_root(b);
  double y = std::min(guess > 0 ? guess : most, most);
  for (int k = 0; k < 100; ++k) {
    const double y2 = y * y, misfit = y * y2 * (1 + a * y2) - b;
    double next = y - misfit / (y2 * (3 + 5 * a * y2));
    if (next > 1.3 * y) {
      if (std::isinf(most)) most = cube_root(b);
      next = std::min(next, most);
    }
    const double change = std::abs(next - y);
    y = next;
    if (change <= converged * y) break;
  }
  return y;
}

double drained_depth(double a, double own, double drop, double b, double guess) {
  if (!(own * b + drop > 0)) return b;
  if (drop > 0.02 * own * b) {
    // In y = h^(1/3) the left side is convex and rises: as in drained_root().
    double most = std::numeric_limits<double>::infinity();
    double y = guess;
    if (!(y > 0)) y = most = cube_root(b);
    for (int k = 0; k < 100; ++k) {
      const double y2 = y * y, h = y * y2, ah = a * h;
      const double x = own * h + drop, root = inverse_root(x), fall = x * root;
      const double misfit = h + ah * y2 * fall - b;
      const double slope = 3 * y2 + ah * y * (5 * fall + 1.5 * own * h * root);
      double next = y - misfit / slope;
      if (next > 1.3 * y) {
        if (std::isinf(most)) most = cube_root(b);
        next = std::min(next, most);
      }
      const double change = std::abs(next - y);
      y = next;
      if (change <= converged * y) break;
    }
    return std::min(y * y * y, b);
  }
  // In u = (own h + drop)^(1/2), where that may come near nothing, likewise; u_most is never below the root.
  const double u_most = std::sqrt(own * b + drop), per_own = 1 / own;
  const double before = guess * guess * guess;
  double u = std::sqrt(std::clamp(own * before + drop, 0.0, own * b + drop));
  for (int k = 0; k < 100; ++k) {
    const double h = std::max((u * u - drop) * per_own, 1e-30);
    const double y = inverse_cube_root(h), power = h * h * y; // h^(5/3)
    const double misfit = h + a * power * u - b;
    const double slope = 2 * u * per_own + a * (power + (10.0 / 3.0) * u * u * h * y * per_own);
    const double next = slope > 0 ? std::min(u - misfit / slope, u_most) : u_most;
    const double change = std::abs(next - u);
    u = next;
    if (2 * u * change * per_own <= converged * h) break;
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

void sweep_uphill(const RouteGraph& graph, const RoutedPools& pools, RoutedWater& water, RouteSlopes& slopes,
                  bool all) {
  const double dx = graph.grid.cell, per_cell = 1 / dx;
  for (int s = static_cast<int>(graph.bed.size()) - 1; s >= 0; --s) {
    const double bed = graph.bed[s], h = water.level[s] - bed;
    if (water.pool_of[s] >= 0 || !(h > 0) || graph.first_link[s] == graph.first_link[s + 1]) {
      slopes.response[s] = slopes.through[s] = 0;
      continue;
    }
    if (!all && std::abs(slopes.outflow[s] - slopes.through[s]) < steady * slopes.through[s]) continue;
    slopes.through[s] += smoothing * (slopes.outflow[s] - slopes.through[s]);
    const int begin = graph.first_link[s], count = graph.first_link[s + 1] - begin;
    const RouteLink* link = &graph.links[begin];
    Fan fan;
    std::array<double, 8> rise; // of the level here above the water below, per cell
    double highest = -std::numeric_limits<double>::infinity();
    for (int k = 0; k < count; ++k) {
      if (link[k].to < 0) {
        rise[k] = 0;
        fan.slope[k] = highest = link[k].slope;
        continue;
      }
      rise[k] = (water.level[s] - pools.level_at(link[k].to, water)) * per_cell;
      highest = std::max(highest, rise[k]);
      fan.slope[k] = std::max(rise[k], 0.0);
    }
    double change = 0;
    if (highest > least_slope) {
      // One step of Newton's method for the logarithm of the outflow.
      sum_up(link, count, fan);
      const double passes = h * h * inverse_cube_root(h) * fan.passes * inverse_n(graph, s, h) * per_cell;
      const double ratio = slopes.through[s] / passes;
      const double steepness = 5.0 / (3.0 * h) + 0.5 * fan.flowing / (fan.sum * dx);
      change = ratio > 0 ? 2 * (ratio - 1) / (ratio + 1) / steepness : 0.0;
      change = std::max(change, -0.75 * h);
    }
    // Where the water below stands as high, the level here must rise to it.
    if (!(highest + change * per_cell > least_slope)) change = least_fall - highest * dx;
    for (int k = 0; k < count; ++k) {
      if (link[k].to >= 0) fan.slope[k] = std::max(rise[k] + change * per_cell, 0.0);
      double& smoothed = slopes.slope[begin + k];
      smoothed += smoothing * (fan.slope[k] - smoothed);
      fan.slope[k] = smoothed;
    }
    sum_up(link, count, fan);
    take_slopes(graph, s, fan, h + change, slopes);
    water.level[s] += change;
  }
}

} // namespace lowspot::surface
