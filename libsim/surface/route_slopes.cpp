#include <lowspot/surface/route_slopes.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include <lowspot/surface/route_lanes.hpp>
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
// Nor more than this part of the fall over the depth: taken from the level of the profile, which follows the
// discharge of the last steps, the response of a mild cell would else be more than what it answers to.
constexpr float most_own_gain = 3;
// Where the depth is more than this multiple of the fall, the profile is sought from the fall of the last
// step: a level that is off by a small part of the depth says nothing of so small a fall.
constexpr float mild = 2;
// The steady profile is taken in full where in a step water passes on this part of what fills the length over
// which it backs up, the depth over the slope; where less, levels as they are take its place in proportion.
constexpr float settled = 0.05f;
// What a side passes by its share of the last step is no more than so many times, and no less than this part
// of, what it would by the levels as they are.
constexpr float most_kept = 2;
// Weight of the present step in what is smoothed over steps.
constexpr float smoothing = 0.5f;
// A slope or a discharge [m/s] that has faded to nothing: smaller numbers would lose their precision.
constexpr float faded = 1e-16f;
// Slope of level ground before any water has shown its own [m/m].
constexpr double first_slope = 1e-3;
// What stands for the fall where there is no way down [m/m].
constexpr float no_fall = -1e6f;

using Sides = std::array<Singles, 4>; // slopes, none negative

LOWSPOT_INLINE Singles sum_of(const Sides& x) { // the same in a mirror
  return (x[0] + x[1]) + (x[2] + x[3]);
}

// sum / |S|^(1/2), S the slope as a vector: times h^(5/3) / n the discharge.
LOWSPOT_INLINE Singles passes(const Sides& slope, Singles sum) {
  const Singles along_x = larger(slope[0], slope[1]), along_y = larger(slope[2], slope[3]);
  const Singles squared =
      larger(along_x * along_x + along_y * along_y, Singles{} + least_slope * least_slope);
  return sum * inverse_fourth_root(squared);
}

// 1 / n at a depth [m] over each of eight slots: see roughness_at().
LOWSPOT_INLINE Singles inverse_n(const RouteSlopes& slopes, int begin, Singles depth) {
  const Singles thin = load<Singles>(&slopes.inverse_n[begin]),
                shallow = load<Singles>(&slopes.shallow[begin]);
  if (!any(depth > shallow)) return thin;
  const Singles nothing = {}, part = (1.0f / 3) * (depth / shallow) - 1.0f / 3;
  return thin *
         exponential(smaller(larger(part, nothing), nothing + 1.0f) * load<Singles>(&slopes.log_deep[begin]));
}

LOWSPOT_INLINE void store_where(Ints taken, Singles values, float* to) {
  store(taken ? values : load<Singles>(to), to);
}

// Takes the slopes on the sides of eight slots, found at these depths [m], for the steps to come; where not
// `taken` all stays as it is. response: of the slots below; returns that of these. settles: see `settled`.
LOWSPOT_INLINE Singles take_slopes(const RouteGraph& graph, int begin, Ints taken, const Sides& slope,
                                   const Sides& response, Singles depth, Singles settles,
                                   RouteSlopes& slopes) {
  const Singles nothing = {}, one = nothing + 1.0f;
  const Singles dx = nothing + static_cast<float>(graph.grid.cell);
  const int outside = static_cast<int>(graph.bed.size());
  const Singles sum = sum_of(slope), per_sum = 1.0f / sum;
  Sides share, below, flows;
  for (int k = 0; k < 4; ++k) {
    const int* to = &slopes.to[k][begin];
    share[k] = slope[k] * per_sum;
    below[k] = share[k] * response[k];
    flows[k] = ((slope[k] > nothing) & (load<Ints>(to) != outside)) ? one : nothing;
  }
  const Singles follows = sum_of(below), flowing = sum_of(flows);
  const Singles conveyance = passes(slope, sum) * inverse_n(slopes, begin, depth) / dx;
  const Singles fall = sum * dx / flowing; // to the water below, in the mean
  const Singles gains = (2.0f * fall + follows) * depth, per = (10.0f / 3.0f) * fall + depth;
  // Where hardly any water is left, nothing follows it.
  const Singles share_own = 1.0f - follows * per / larger(gains, nothing + 1e-30f);
  const Singles least = smaller(nothing + least_own, most_own_gain * fall / larger(depth, nothing + 1e-9f));
  const Singles own = smaller(larger(larger(share_own, least), one - settles), one);
  taken &= sum > nothing; // all across a section: as it was
  const Ints matters = (flowing > nothing) & (fall <= steep * depth);
  store_where(taken, matters ? own : nothing, &slopes.own[begin]);
  store_where(taken, matters ? fall - own * depth : one, &slopes.drop[begin]);
  store_where(taken, matters ? conveyance * inverse_root(fall) : conveyance, &slopes.conveyance[begin]);
  return matters ? gains / per : 0.6f * depth;
}

// The slopes on the sides of a pack of slots.
LOWSPOT_INLINE void look(float dt, const RouteGraph& graph, int begin, int end, RoutedWater& water,
                         RouteSlopes& slopes) {
  const Ints number = {0, 1, 2, 3, 4, 5, 6, 7}, member = number < end - begin;
  const Singles nothing = {};
  const Doubles level = load<Doubles>(&water.level[begin]);
  const Singles depth = singles(level - load<Doubles>(&slopes.bed[begin]));
  Ints wet = member & (depth > nothing) & (load<Ints>(&water.pool_of[begin]) < 0) &
             (load<Singles>(&slopes.conveyance[begin]) > nothing);
  const Singles last = load<Singles>(&slopes.through[begin]);
  Singles through = last + smoothing * (load<Singles>(&slopes.outflow[begin]) - last);
  through = (wet & (through > faded)) ? through : nothing;
  store(member ? through : last, &slopes.through[begin]);
  // What the slots above look at.
  const auto show = [&](Singles depths, Singles responses) {
    std::int64_t* shown = &slopes.shown[begin];
    store(wide(member) ? together(depths, responses) : load<Longs>(shown), shown);
  };
  if (!any(wet)) {
    show(depth, nothing);
    return;
  }
  const float dx = static_cast<float>(graph.grid.cell), per_cell = 1 / dx;
  const int outside = static_cast<int>(graph.bed.size());
  Sides rise, before, now, below; // rise: of the level here above the water below, per cell
  std::array<Ints, 4> open, fixed;
  const Bytes level_sides = load<Bytes>(&slopes.sections.level_sides[begin]);
  for (int k = 0; k < 4; ++k) {
    const int* to = &slopes.to[k][begin];
    before[k] = load<Singles>(&slopes.slope[k][begin]);
    open[k] = load<Ints>(to) == outside;
    fixed[k] = open[k] | (before[k] < nothing);
    const Longs there = pick<Longs>(slopes.shown.data(), to);
    below[k] = second_of(there);
    const Singles falls = load<Singles>(&slopes.bed_slope[k][begin]) + (depth - first_of(there)) * per_cell;
    rise[k] = open[k] ? before[k] : falls;
  }
  // Across a section nothing falls.
  if (any(level_sides)) {
    const Ints levels = __builtin_convertvector(level_sides, Ints);
    for (int k = 0; k < 4; ++k) {
      const Ints across = (levels & (level_side(k) | held_side(k))) != 0;
      fixed[k] |= across;
      rise[k] = across ? nothing + no_fall : rise[k];
      before[k] = across ? nothing : before[k];
    }
  }
  const Singles highest = larger(larger(rise[0], rise[1]), larger(rise[2], rise[3]));
  wet &= highest > 0.5f * no_fall; // all ways down are across a section
  const Singles steepest = larger(larger(before[0], before[1]), larger(before[2], before[3]));
  // The depth from which the profile is sought.
  const Singles from = depth > mild * dx * steepest ? depth + dx * (steepest - highest) : depth;
  const Singles start = larger(from, 0.25f * depth);
  for (int k = 0; k < 4; ++k)
    now[k] = larger(open[k] ? rise[k] : rise[k] + (start - depth) * per_cell, nothing);
  // One step of Newton's method for the logarithm of the outflow.
  Sides flows;
  for (int k = 0; k < 4; ++k) flows[k] = ((now[k] > nothing) & ~open[k]) ? nothing + 1.0f : nothing;
  const Singles flowing = sum_of(flows), sum = sum_of(now), fall = sum * dx;
  const Singles inverse = inverse_cube_root(larger(start, nothing + 1e-12f));
  const Singles passed =
      start * start * inverse * passes(now, sum) * inverse_n(slopes, begin, start) * per_cell;
  const Singles newton = 12.0f * (through - passed) * start * fall /
                         ((through + passed) * (10.0f * fall + 3.0f * start * flowing));
  Singles change =
      ((sum > least_slope) & (through > nothing)) ? start - depth + larger(newton, -0.75f * start) : nothing;
  // Where the water below stands as high, the level here must rise to it.
  change = highest + change * per_cell > least_slope ? change : least_fall - highest * dx;
  const Singles settles =
      smaller(dt * through * fall / (settled * larger(start * start, nothing + 1e-12f)), nothing + 1.0f);
  // Profiles that ran ahead of the water would set it swinging (see ROUTED.md).
  change = highest > least_slope ? settles * change : change;
  // Where a step passes on many times what changes the levels beside it, the share of each side would swing
  // from step to step: it changes the less.
  Sides wanted, turning, turning_before;
  for (int k = 0; k < 4; ++k) {
    wanted[k] = larger(rise[k] + change * per_cell, nothing);
    turning[k] = fixed[k] ? nothing : wanted[k];
    turning_before[k] = fixed[k] ? nothing : before[k];
  }
  const Singles sum_wanted = sum_of(turning), sum_before = sum_of(turning_before);
  const Singles gain = dt * through / larger(sum_wanted * dx, nothing + 1e-12f);
  const Singles fresh = sum_before > least_slope ? 1.0f / (1.0f + gain) : nothing + 1.0f;
  const Singles kept_share = (1.0f - fresh) * (sum_wanted / larger(sum_before, nothing + least_slope));
  for (int k = 0; k < 4; ++k) {
    const Singles blend = fresh * wanted[k] + kept_share * before[k];
    const Singles next = smaller(larger(blend, wanted[k] * (1 / most_kept)), wanted[k] * most_kept);
    const Singles smoothed = before[k] + smoothing * (next - before[k]);
    const Singles kept = fixed[k] ? before[k] : smoothed > faded ? smoothed : nothing;
    store(wet ? kept : before[k], &slopes.slope[k][begin]);
    now[k] =
        larger(fixed[k] ? before[k] : before[k] + (1.0f - (1.0f - smoothing) * settles) * (next - before[k]),
               nothing);
  }
  const Singles after = depth + change,
                response = take_slopes(graph, begin, wet, now, below, after, settles, slopes);
  show(wet ? after : depth, wet ? response : nothing);
  store(wide(wet) ? level + doubles(change) : level, &water.level[begin]);
}

LOWSPOT_VECTOR_CLONES void look_everywhere(double dt, const RouteGraph& graph, RoutedWater& water,
                                           RouteSlopes& slopes) {
  for (std::size_t k = slopes.pack.size() - 1; k-- > 0;)
    look(static_cast<float>(dt), graph, slopes.pack[k], slopes.pack[k + 1], water, slopes);
}

// Cuts the slots into packs.
void find_packs(const RouteGraph& graph, RouteSlopes& slopes) {
  const int slots = static_cast<int>(graph.bed.size());
  slopes.pack_of.assign(slots, -1);
  std::vector<int> fed(slots, -1); // last slot that hands water to this one
  for (int s = 0; s < slots; ++s) {
    if (slopes.pack.empty() || s - slopes.pack.back() == lanes || fed[s] >= slopes.pack.back())
      slopes.pack.push_back(s);
    slopes.pack_of[s] = static_cast<int>(slopes.pack.size()) - 1;
    for (int k = graph.first_link[s]; k < graph.first_link[s + 1]; ++k)
      if (graph.links[k].to >= 0) fed[graph.links[k].to] = s;
  }
  slopes.all_packs.resize(slopes.pack.size());
  std::iota(slopes.all_packs.begin(), slopes.all_packs.end(), 0);
  slopes.pack.push_back(slots);
}

} // namespace

int RouteSections::number_of(int slot) {
  if (number[slot] >= 0) return number[slot];
  const int n = static_cast<int>(nodes.size());
  nodes.push_back(slot);
  group.push_back(n);
  next.push_back(n);
  size.push_back(1);
  along.push_back(0);
  carrier.push_back(n);
  toward.push_back(-1);
  return number[slot] = n;
}

RouteSlopes::RouteSlopes(const RouteGraph& graph) {
  const int slots = static_cast<int>(graph.bed.size());
  const std::size_t room = slots + lanes;
  for (Aligned<float>* list :
       {&conveyance, &own, &drop, &root, &outflow, &through, &inverse_n, &shallow, &log_deep})
    list->assign(room, 0.0f);
  for (int k = 0; k < 4; ++k) {
    to[k].assign(room, slots);
    slope[k].assign(room, no_way);
    bed_slope[k].assign(room, no_fall);
  }
  sections.step_up.assign(room, std::numeric_limits<float>::infinity());
  sections.joined.assign(room, 0);
  sections.level_sides.assign(room, 0);
  sections.sides_before.assign(room, 0);
  sections.section.assign(room, -1);
  sections.number.assign(room, -1);
  for (const RimFace& face : graph.other_faces) {
    if (face.link.to < 0 || face.sill > graph.bed[face.link.to]) continue;
    float& least = sections.step_up[face.from];
    least = std::min(least, static_cast<float>(face.sill - graph.bed[face.from]));
  }
  shown.assign(room, 0);
  above.assign(slots, {-1, -1, -1, -1});
  bed.assign(graph.bed.begin(), graph.bed.end());
  storage.assign(graph.storage.begin(), graph.storage.end());
  bed.resize(room, 0.0);
  storage.resize(room, 0.0);
  for (int s = 0; s < slots; ++s) {
    // Manning's n is that of thin sheets up to half the height of what grows there.
    const double plants = graph.vegetation[s];
    const double always = roughness_at(1, graph.roughness_thin[s], graph.log_ratio[s], plants);
    inverse_n[s] = static_cast<float>(plants > 0 ? graph.inverse_n_thin[s] : 1 / std::sqrt(always));
    shallow[s] = plants > 0 ? static_cast<float>(0.5 * plants) : std::numeric_limits<float>::max();
    log_deep[s] = static_cast<float>(-0.5 * graph.log_ratio[s]);
    for (int k = 0; k < 4; ++k) to[k][s] = s;
    Sides falls = {};
    for (int k = graph.first_link[s]; k < graph.first_link[s + 1]; ++k) {
      const RouteLink& link = graph.links[k];
      to[link.side][s] = link.to < 0 ? slots : link.to;
      if (link.to >= 0) above[link.to][link.side ^ 1] = s;
      if (link.to >= 0)
        bed_slope[link.side][s] = static_cast<float>((graph.bed[s] - graph.bed[link.to]) / graph.grid.cell);
      // On level ground as if it fell a little toward the way down.
      falls[link.side][0] = slope[link.side][s] = static_cast<float>(
          link.to < 0 ? link.slope
                      : std::max((graph.bed[s] - graph.bed[link.to]) / graph.grid.cell, first_slope));
    }
    const Ints first = {-1};
    if (graph.first_link[s] < graph.first_link[s + 1])
      take_slopes(graph, s, first, falls, Sides{}, Singles{}, Singles{} + 1.0f, *this);
  }
  find_packs(graph, *this);
}

void sweep_uphill(double dt, const RouteGraph& graph, const RoutedPools& pools, RoutedWater& water,
                  RouteSlopes& slopes) {
  for (int d : pools.active) {
    const RoutedPool& pool = pools.pool(d);
    for (int k = 0; k < pool.members; ++k)
      if (water.pool_of[pool.cells[k]] == d) water.level[pool.cells[k]] = pool.level;
  }
  look_everywhere(dt, graph, water, slopes);
}

} // namespace lowspot::surface
