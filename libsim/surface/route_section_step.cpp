#include <lowspot/surface/route_section_step.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <utility>

#include <lowspot/surface/friction.hpp>
#include <lowspot/surface/route_roots.hpp>

namespace lowspot::surface {
namespace {

// In place of the bed of a cell that a section does not reach [m].
constexpr double out_of_reach = 1e9;
// A level is found when it would change by no more than this share of the depth.
constexpr double level_found = 1e-6;

// A cell that a pool has reached before its turn: its sources come in with the pool's next step.
void feed_pool(const SectionStep& step, int s) {
  RoutedWater& water = step.water;
  if (std::exchange(water.done[s], char{1})) return;
  const double supplied = water.supply[s] * step.dt, taken = std::min(water.sink[s] * step.dt, supplied);
  water.taken[s] += taken;
  step.pools.pool(water.pool_of[s]).inflow += supplied - taken;
}

// Books the sources of a cell and returns what it has above what its depressions hold [m].
double take_sources(const SectionStep& step, int s) {
  RoutedWater& water = step.water;
  const bool again = std::exchange(water.done[s], char{1});
  const double time = again ? 0 : step.dt;
  const double arrived = std::exchange(water.inflow[s], 0.0) + water.supply[s] * time;
  const double offered = water.depth[s] + arrived, wanted = again ? water.thirst[s] : water.sink[s] * time;
  const double took = std::min(wanted, again ? arrived : offered);
  water.taken[s] += took;
  water.thirst[s] = wanted - took;
  water.depth[s] = offered - took;
  return water.depth[s] - step.slopes.storage[s];
}

// Hands on what leaves a cell over its ways down, and returns that [m].
double hand_on(const SectionStep& step, int s, double leaves) {
  const RouteSlopes& slopes = step.slopes;
  std::array<double, 4> slope;
  for (int k = 0; k < 4; ++k) slope[k] = std::max(static_cast<double>(slopes.slope[k][s]), 0.0);
  const double sum = (slope[0] + slope[1]) + (slope[2] + slope[3]);
  if (!(sum > 0) || !(leaves > 0)) return 0;
  std::array<double, 4> part = {};
  if (step.faces.counted[s]) { // the way out of the yard among them
    for (int k = step.graph.first_link[s]; k < step.graph.first_link[s + 1]; ++k) {
      const RouteLink& link = step.graph.links[k];
      part[link.side] = leaves * slope[link.side] / sum;
      if (part[link.side] > 0) step.faces.pass(s, link, part[link.side], step.pools, step.water);
    }
  } else {
    for (int k = 0; k < 4; ++k) {
      part[k] = leaves * slope[k] / sum;
      if (part[k] > 0) step.faces.pass(s, k, slopes.to[k][s], part[k], step.pools, step.water);
    }
  }
  return (part[0] + part[1]) + (part[2] + part[3]);
}

// A section of one cell is a cell of the ground that has its turn among sections.
void step_alone(SectionStep& step, int s, bool again) {
  RoutedWater& water = step.water;
  RouteSlopes& slopes = step.slopes;
  if (water.pool_of[s] >= 0) return feed_pool(step, s);
  const double before = again ? static_cast<double>(slopes.outflow[s]) * step.dt : 0.0;
  const double mobile = take_sources(step, s) + before;
  if (!(mobile > 0)) {
    water.level[s] = slopes.bed[s];
    if (!again) slopes.root[s] = slopes.outflow[s] = 0;
    return;
  }
  float falls = 0;
  for (const Aligned<float>& slope : slopes.slope) falls = std::max(falls, slope[s]);
  const double conveyance = falls > 0 ? step.dt * static_cast<double>(slopes.conveyance[s]) : 0;
  const double y =
      drained_root(conveyance, static_cast<double>(slopes.own[s]), static_cast<double>(slopes.drop[s]),
                   mobile, static_cast<double>(slopes.root[s]), slopes.profile(s));
  const double more = std::max(mobile - std::min(y * y * y, mobile) - before, 0.0);
  const double gone = hand_on(step, s, std::min(more, water.depth[s] - slopes.storage[s]));
  water.depth[s] -= gone;
  water.level[s] = slopes.bed[s] + std::max(water.depth[s] - slopes.storage[s], 0.0);
  slopes.root[s] = static_cast<float>(y);
  slopes.outflow[s] = static_cast<float>((before + gone) / step.dt);
  step.greatest = std::max(step.greatest, (before + gone) / step.dt);
  step.passed += gone / step.dt;
}

// A cell without a way along the flow passes on as much as its water does that falls like its carrier's.
void lend_way(SectionStep& step, int n, double aslant) {
  const RouteSections& all = step.slopes.sections;
  const int at = step.place[n], carrier = all.carrier[n];
  if (at < 0 || carrier == n || step.place[carrier] < 0) return;
  const SectionCell& lender = step.cells[step.place[carrier]];
  SectionCell& one = step.cells[at];
  const int s = all.nodes[n];
  const double dx = step.graph.grid.cell;
  const double h = std::max(step.water.depth[s] - step.slopes.storage[s], dry_depth);
  const double inverse_n = conveyance(step.graph, s, h) / (h * h * inverse_cube_root(h));
  one.conveyance = lender.conveyance > 0 ? aslant * step.dt * inverse_n / (dx * std::sqrt(dx)) : 0;
  const bool follows = lender.own > 0;
  one.own = lender.own;
  one.drop =
      follows ? lender.drop + lender.own * (one.bed - lender.bed) : static_cast<double>(all.along[n]) * dx;
}

// What rounding leaves, the lowest cell of a section has or gives.
void close_books(SectionStep& step, const RouteSection& section) {
  const RouteSections& all = step.slopes.sections;
  double over = 0;
  int lowest = -1;
  for (int k = section.begin; k < section.end; ++k) {
    over += step.across[all.order[k]];
    const int s = all.nodes[all.order[k]];
    if (step.water.pool_of[s] < 0) lowest = all.order[k];
  }
  if (lowest < 0) return;
  step.water.depth[all.nodes[lowest]] += over;
  step.across[lowest] -= over;
}

} // namespace

double balance_section(std::span<SectionCell> cells, double mobile, double guess) {
  double lowest = std::numeric_limits<double>::infinity();
  for (const SectionCell& one : cells) lowest = std::min(lowest, one.bed);
  double low = lowest, high = lowest + mobile, level = guess > low && guess < high ? guess : high, leaves = 0;
  for (int turn = 0; turn < 200; ++turn) {
    double held = 0, slope = 0;
    leaves = 0;
    for (SectionCell& one : cells) {
      const double h = std::max(level - one.bed, 0.0);
      one.depth = h;
      one.leaves = 0;
      if (!(h > 0)) continue;
      held += h;
      slope += 1;
      const double fall = one.own * h + one.drop;
      if (!(fall > 0) || !(one.conveyance > 0)) continue;
      const double root = std::sqrt(fall);
      one.leaves = one.conveyance * h * h * inverse_cube_root(h) * root;
      leaves += one.leaves;
      slope += one.leaves * (5.0 / (3 * h) + 0.5 * one.own / fall);
    }
    const double misfit = held + leaves - mobile;
    (misfit > 0 ? high : low) = level;
    const double next = level - misfit / std::max(slope, 1e-30);
    const bool inside = next > low && next < high;
    const double change = (inside ? next : 0.5 * (low + high)) - level;
    if (std::abs(change) <= level_found * (level - lowest) || !(high > low)) break;
    level += change;
  }
  // What is not held leaves, so that nothing is lost.
  double held = 0;
  for (const SectionCell& one : cells) held += one.depth;
  const double goes = std::max(mobile - held, 0.0), part = leaves > 0 ? goes / leaves : 0;
  const double kept = (leaves > 0 && held <= mobile) || !(held > 0) ? 1 : mobile / held;
  for (SectionCell& one : cells) {
    one.leaves *= part;
    one.depth *= kept;
  }
  return level;
}

void begin_sections(SectionStep& step, bool again) {
  const std::size_t all = step.slopes.sections.nodes.size();
  step.across.assign(all, 0.0);
  step.place.assign(all, -1);
  if (!again) step.slopes.sections.handed.assign(all, 0.0);
}

void step_section(SectionStep& step, RouteSection& section) {
  RoutedWater& water = step.water;
  RouteSlopes& slopes = step.slopes;
  const bool again = section.turns++ > 0;
  if (section.end - section.begin == 1)
    return step_alone(step, slopes.sections.nodes[slopes.sections.order[section.begin]], again);
  RouteSections& all = slopes.sections;
  const auto passed_before = [&](int n) { return again ? all.handed[n] : 0.0; };
  std::vector<SectionCell>& cells = step.cells;
  cells.clear();
  double mobile = 0, lack = 0, left_before = 0;
  for (int k = section.begin; k < section.end; ++k) {
    const int n = all.order[k], s = all.nodes[n];
    step.place[n] = -1;
    if (water.pool_of[s] >= 0) {
      feed_pool(step, s);
      continue;
    }
    step.place[n] = static_cast<int>(cells.size());
    const double above = take_sources(step, s);
    left_before += passed_before(n);
    mobile += std::max(above, 0.0);
    lack += std::max(-above, 0.0);
    float falls = 0;
    for (const Aligned<float>& slope : slopes.slope) falls = std::max(falls, slope[s]);
    cells.push_back({slopes.bed[s],
                     falls > 0 ? section.aslant * step.dt * static_cast<double>(slopes.conveyance[s]) : 0.0,
                     static_cast<double>(slopes.own[s]), static_cast<double>(slopes.drop[s]),
                     std::max(-above, 0.0)});
  }
  if (cells.empty()) return;
  for (int k = section.begin; k < section.end; ++k) lend_way(step, all.order[k], section.aslant);
  // The water that is there fills the depressions of the cells that it reaches.
  const bool fills = lack > 0 && lack < mobile;
  if (!fills) lack = 0;
  mobile += left_before;
  for (SectionCell& one : cells)
    if (one.lack > 0 && !fills) one.bed = out_of_reach;
  section.level = balance_section(cells, mobile - lack, section.level);
  bool reached = true;
  for (SectionCell& one : cells)
    if (fills && one.lack > 0 && !(one.depth > 0)) {
      reached = false;
      one.bed = out_of_reach;
      lack -= one.lack;
    }
  if (!reached) section.level = balance_section(cells, mobile - std::max(lack, 0.0), section.level);
  // What has left does not come back, though cells that are reached only now take more than has come since.
  const auto sum_leaves = [&] {
    double sum = 0;
    for (const SectionCell& one : cells) sum += one.leaves;
    return sum;
  };
  if (sum_leaves() < left_before) {
    for (SectionCell& one : cells) one.conveyance = 0;
    section.level = balance_section(cells, mobile - std::max(lack, 0.0) - left_before, section.level);
  }
  const double goes_on = std::max(sum_leaves() - left_before, 0.0);
  // What cells without a way along the flow pass on goes by their carriers.
  for (SectionCell& one : cells) one.carries = one.leaves;
  for (int k = section.begin; k < section.end; ++k) {
    const int n = all.order[k], at = step.place[n], carrier = all.carrier[n];
    if (at < 0 || carrier == n || step.place[carrier] < 0) continue;
    cells[step.place[carrier]].carries += std::exchange(cells[at].carries, 0.0);
    cells[at].leaves = 0;
  }
  // Nor is it taken from what others have still to pass on.
  double wanted = 0;
  for (int k = section.begin; k < section.end; ++k) {
    const int n = all.order[k], at = step.place[n];
    if (at >= 0) wanted += std::max(cells[at].carries - passed_before(n), 0.0);
  }
  const double share = again && wanted > goes_on ? goes_on / wanted : 1;
  for (int k = section.begin; k < section.end; ++k) {
    const int n = all.order[k], s = all.nodes[n];
    if (step.place[n] < 0) continue;
    const SectionCell& one = cells[step.place[n]];
    if (one.bed == out_of_reach) {
      water.level[s] = slopes.bed[s];
      if (!again) slopes.root[s] = slopes.outflow[s] = 0;
      all.handed[n] = passed_before(n);
      continue;
    }
    const double before = passed_before(n), more = share * std::max(one.carries - before, 0.0);
    const double gone = hand_on(step, s, more), stays = slopes.storage[s] + one.depth + (more - gone);
    step.across[n] += water.depth[s] - stays - gone;
    water.depth[s] = stays;
    water.level[s] = slopes.bed[s] + one.depth;
    slopes.root[s] = static_cast<float>(cube_root(std::max(one.depth, 1e-30)));
    // Its own profile is that of what it passes itself.
    const double own = one.carries > 0 ? one.leaves / one.carries : 0;
    all.handed[n] = before + gone;
    slopes.outflow[s] = static_cast<float>(own * all.handed[n] / (section.aslant * step.dt));
    step.greatest = std::max(step.greatest, all.handed[n] / step.dt);
    step.passed += gone / step.dt;
  }
  close_books(step, section);
}

void pass_across(SectionStep& step) {
  const RouteSections& all = step.slopes.sections;
  std::vector<int>& degree = step.degree = all.degree;
  std::vector<int>& way = step.way = all.way;
  const Grid& grid = step.graph.grid;
  for (std::size_t first = 0; first < all.nodes.size(); ++first) {
    // A cell with one face left passes all it has too much over that, or gets what it lacks.
    for (int n = static_cast<int>(first); degree[n] == 1;) {
      const int f = way[n];
      const SectionFace& face = all.faces[f];
      const int other = face.upper == n ? face.lower : face.upper;
      const double depth = std::exchange(step.across[n], 0.0), down = face.upper == n ? depth : -depth;
      const int upper = all.nodes[face.upper], lower = all.nodes[face.lower], side = face.side;
      if (down > 0)
        step.faces.passed[side][upper] += static_cast<float>(down);
      else
        step.faces.passed[side ^ 1][lower] -= static_cast<float>(down);
      if (step.faces.counted[upper] || step.faces.counted[lower]) {
        const int cell = step.graph.cell[upper];
        double& crossed = side < 2 ? step.faces.x[cell + grid.row(cell) + side]
                                   : step.faces.y[cell + (side == 3 ? grid.nx : 0)];
        crossed += step.faces.area * (side & 1 ? down : -down);
      }
      step.across[other] += depth;
      degree[n] = 0;
      --degree[other];
      way[other] ^= f;
      n = other;
    }
  }
}

} // namespace lowspot::surface
