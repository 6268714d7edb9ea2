#include <lowspot/surface/route_sweep.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <limits>
#include <utility>

#include <lowspot/surface/route_lanes.hpp>
#include <lowspot/surface/route_roots.hpp>
#include <lowspot/surface/route_section_step.hpp>

namespace lowspot::surface {
namespace {

// So little less than 1 that single precision makes no more than 1 of it.
constexpr float all_shares = 1 - 4e-7f;

// What comes to a cell of the ground after its turn waits for the next step where it is no more than this
// share of what stands there.
constexpr double late_share = 0.1;
// Nor is it handed on within the step where it is less than this share of all that the step brings there:
// else a drop would be followed from cell to cell out of the yard.
constexpr double late_flow = 0.01;
// So many times in a step a section has its turn for whatever comes to it, and so many at most, for what is
// more than this share of the water where it comes. What is left waits for the next step.
constexpr int all_turns = 8, most_turns = 64;
constexpr double late_section_share = 0.02;

// So many times in a step at most late water is passed on from pool to pool down the yard.
constexpr int most_late_rounds = 16;

struct Sweep {
  double dt;
  const RouteGraph& graph;
  RoutedPools& pools;
  RoutedWater& water;
  RouteSlopes& slopes;
  RoutedFaces& faces;
  Singles greatest = {}, passed = {}; // of cells, by lane: see Swept
  double greatest_pool = 0;           // of a pool, likewise
  SectionStep sections{dt, graph, pools, water, slopes, faces};
};

// The shares of what eight slots give away that take each side, together no more than 1.
LOWSPOT_INLINE std::array<Singles, 4> shares(const RouteSlopes& slopes, int begin) {
  const Singles nothing = {};
  std::array<Singles, 4> slope;
  for (int k = 0; k < 4; ++k) slope[k] = larger(load<Singles>(&slopes.slope[k][begin]), nothing);
  const Singles sum = (slope[0] + slope[1]) + (slope[2] + slope[3]);
  const Singles per_sum = all_shares / larger(sum, nothing + 1e-30f);
  for (Singles& one : slope) one *= per_sum;
  return slope;
}

// Hands on what a slot gives to each side [m], beside RoutedFaces::passed.
LOWSPOT_INLINE void hand_on(const Sweep& sweep, int s, const std::array<double, 4>& part) {
  double* inflow = sweep.water.inflow.data();
  for (int k = 0; k < 4; ++k) inflow[sweep.slopes.to[k][s]] += part[k]; // nothing to itself
  if (!sweep.faces.counted[s]) return;
  const Grid& grid = sweep.graph.grid;
  const int cell = sweep.graph.cell[s];
  double *x = &sweep.faces.x[cell + grid.row(cell)], *y = &sweep.faces.y[cell];
  const double area = sweep.faces.area;
  x[0] -= area * part[0];
  x[1] += area * part[1];
  y[0] -= area * part[2];
  y[grid.nx] += area * part[3];
}

// Cells that a pool has reached before their own turn: their sources come in with its next step.
void feed_late(const Sweep& sweep, int begin, int end) {
  RoutedWater& water = sweep.water;
  for (int s = begin; s < end; ++s) {
    if (water.pool_of[s] < 0 || water.done[s]) continue;
    RoutedPool& pool = sweep.pools.pool(water.pool_of[s]);
    const double supplied = water.supply[s] * sweep.dt;
    const double taken = std::min(water.sink[s] * sweep.dt, supplied);
    water.taken[s] += taken;
    water.done[s] = 1;
    pool.inflow += supplied - taken;
  }
}

// The root of a slot whose depth would be far above that of the last profile.
double drained_far(const Sweep& sweep, int s, double mobile) {
  const RouteSlopes& slopes = sweep.slopes;
  return drained_root(sweep.dt * static_cast<double>(slopes.conveyance[s]),
                      static_cast<double>(slopes.own[s]), static_cast<double>(slopes.drop[s]), mobile,
                      static_cast<double>(slopes.root[s]), slopes.profile(s));
}

// Some slots of a pack.
LOWSPOT_INLINE void route(Sweep& sweep, int begin, int end) {
  RoutedWater& water = sweep.water;
  RouteSlopes& slopes = sweep.slopes;
  const Ints number = {0, 1, 2, 3, 4, 5, 6, 7}, member = number < end - begin;
  const Ints pooled = load<Ints>(&water.pool_of[begin]) >= 0;
  const Bytes done = load<Bytes>(&water.done[begin]);
  if (any(member & pooled & (__builtin_convertvector(done, Ints) == 0))) feed_late(sweep, begin, end);
  const Bytes joined = load<Bytes>(&slopes.sections.joined[begin]);
  const Longs moves = wide(member & ~pooled & (__builtin_convertvector(joined, Ints) == 0));
  const Doubles nothing = {};
  // A cell that a pool has just laid bare has had its sources.
  Doubles time = nothing + sweep.dt;
  if (any(done))
    for (int l = 0; l < lanes; ++l)
      if (water.done[begin + l]) time[l] = 0;
  const Doubles depth = load<Doubles>(&water.depth[begin]), inflow = load<Doubles>(&water.inflow[begin]);
  const Doubles offered = depth + inflow + load<Doubles>(&water.supply[begin]) * time;
  const Doubles wanted = load<Doubles>(&water.sink[begin]) * time;
  const Doubles took = smaller(wanted, offered), taken = load<Doubles>(&water.taken[begin]);
  const Doubles remains = offered - took, mobile = remains - load<Doubles>(&slopes.storage[begin]);
  store(moves ? taken + took : taken, &water.taken[begin]);
  store(moves ? nothing : inflow, &water.inflow[begin]);
  store(moves ? wanted - took : load<Doubles>(&water.thirst[begin]), &water.thirst[begin]);
  const Ints wet = narrow(moves & (mobile > dry_depth));
  const Doubles bed = load<Doubles>(&slopes.bed[begin]), level = load<Doubles>(&water.level[begin]);
  const Singles root = load<Singles>(&slopes.root[begin]), outflow = load<Singles>(&slopes.outflow[begin]);
  const Ints moved = narrow(moves);
  if (!any(wet)) {
    store(moves ? remains : depth, &water.depth[begin]);
    store(moves ? bed : level, &water.level[begin]);
    store(moved ? Singles{} : root, &slopes.root[begin]);
    store(moved ? Singles{} : outflow, &slopes.outflow[begin]);
    return;
  }
  const Singles dt = Singles{} + static_cast<float>(sweep.dt);
  Singles y = drained_roots(dt * load<Singles>(&slopes.conveyance[begin]), load<Singles>(&slopes.own[begin]),
                            load<Singles>(&slopes.drop[begin]), singles(mobile), root, wet);
  const Singles profile = first_of(load<Longs>(&slopes.shown[begin]));
  const Ints far = wet & (load<Singles>(&slopes.own[begin]) > Singles{}) &
                   (y * y * y > static_cast<float>(follows_to) * profile + static_cast<float>(follows_more));
  if (any(far))
    for (int l = 0; l < lanes; ++l)
      if (far[l]) y[l] = static_cast<float>(drained_far(sweep, begin + l, mobile[l]));
  const Doubles y_ = doubles(y), h = smaller(y_ * y_ * y_, mobile), leaves = wide(wet) ? mobile - h : nothing;
  alignas(64) std::array<std::array<double, lanes>, 4> parts;
  std::array<Doubles, 4> part;
  const std::array<Singles, 4> share = shares(slopes, begin);
  const Singles leaves_ = singles(leaves);
  for (int k = 0; k < 4; ++k) {
    const Singles one = leaves_ * share[k];
    float* passed = &sweep.faces.passed[k][begin];
    store(load<Singles>(passed) + one, passed);
    part[k] = doubles(one);
    store(part[k], parts[k].data());
  }
  const Doubles gone = (part[0] + part[1]) + (part[2] + part[3]);
  store(moves ? remains - gone : depth, &water.depth[begin]);
  store(wide(wet) ? bed + h : moves ? bed : level, &water.level[begin]);
  const Singles out = singles(gone * (1 / sweep.dt));
  store(wet ? y : moved ? Singles{} : root, &slopes.root[begin]);
  store(moved ? out : outflow, &slopes.outflow[begin]);
  sweep.greatest = larger(sweep.greatest, wet ? out : Singles{});
  sweep.passed += wet ? out : Singles{};
  for (int l = 0; l < end - begin; ++l)
    hand_on(sweep, begin + l, {parts[0][l], parts[1][l], parts[2][l], parts[3][l]});
}

// Whether what has come to a slot is worth handing on within the step; that is for a pool itself to say.
bool is_much(const Sweep& sweep, int s) {
  if (sweep.water.pool_of[s] >= 0) return true;
  const double before = static_cast<double>(sweep.slopes.outflow[s]) * sweep.dt;
  return sweep.water.inflow[s] > late_flow * (sweep.water.depth[s] + before);
}

// More water for a cell that has had its turn: the balance of the whole step is taken anew and what it passes
// on beyond what it has already, is handed on.
void route_again(Sweep& sweep, int s) {
  RoutedWater& water = sweep.water;
  RouteSlopes& slopes = sweep.slopes;
  if (water.pool_of[s] >= 0) {
    if (sweep.faces.again) sweep.faces.fed.push_back(water.pool_of[s]);
    return;
  }
  if (!is_much(sweep, s)) return;
  const double before = static_cast<double>(slopes.outflow[s]) * sweep.dt;
  if (const int k = slopes.sections.section[s]; k >= 0) {
    RouteSection& section = slopes.sections.sections[k];
    if (section.turns == 0) return; // it waits for its turn
    const bool much = water.inflow[s] > late_section_share * water.depth[s];
    if (section.turns < (much ? most_turns : all_turns)) step_section(sweep.sections, section);
    return;
  }
  const double taken = std::min(water.thirst[s], water.inflow[s]);
  water.thirst[s] -= taken;
  water.taken[s] += taken;
  water.depth[s] += water.inflow[s] - taken;
  water.inflow[s] = 0;
  const double mobile = water.depth[s] + before - slopes.storage[s];
  if (!(mobile > dry_depth) || !(slopes.conveyance[s] > 0)) return;
  const double y = drained_root(sweep.dt * static_cast<double>(slopes.conveyance[s]),
                                static_cast<double>(slopes.own[s]), static_cast<double>(slopes.drop[s]),
                                mobile, static_cast<double>(slopes.root[s]), slopes.profile(s));
  slopes.root[s] = static_cast<float>(y);
  const double more = std::clamp(mobile - std::min(y * y * y, mobile) - before, 0.0,
                                 std::max(water.depth[s] - slopes.storage[s], 0.0));
  std::array<double, 4> part;
  const std::array<Singles, 4> share = shares(slopes, s);
  for (int k = 0; k < 4; ++k) {
    const float one = static_cast<float>(more) * share[k][0];
    sweep.faces.passed[k][s] += one;
    part[k] = static_cast<double>(one);
  }
  const double gone = (part[0] + part[1]) + (part[2] + part[3]);
  water.depth[s] -= gone;
  water.level[s] = slopes.bed[s] + std::max(water.depth[s] - slopes.storage[s], 0.0);
  slopes.outflow[s] += static_cast<float>(gone / sweep.dt);
  hand_on(sweep, s, part);
  for (int k = 0; k < 4; ++k)
    if (part[k] > 0 && slopes.to[k][s] < sweep.faces.turn && is_much(sweep, slopes.to[k][s]))
      sweep.faces.call_late(slopes.to[k][s]);
}

void find_turns(const RoutedPools& pools, const std::vector<RouteSection>& sections,
                std::vector<RoutedPoolTurn>& turns) {
  turns.clear();
  for (int d : pools.active) turns.push_back({pools.pool(d).turn, d});
  for (std::size_t k = 0; k < sections.size(); ++k)
    turns.push_back({sections[k].turn_level, -1, static_cast<int>(k)});
  const auto rank = [&](int d) { return d < 0 ? 0 : pools.pool(d).turn_rank; };
  std::sort(turns.begin(), turns.end(), [&](const RoutedPoolTurn& a, const RoutedPoolTurn& b) {
    if (a.level != b.level) return a.level > b.level;
    if (a.depression >= 0 && b.depression >= 0 && rank(a.depression) != rank(b.depression))
      return rank(a.depression) < rank(b.depression);
    return a.depression != b.depression ? a.depression < b.depression : a.section < b.section;
  });
}

// What was given to slots after their turn goes on.
void route_late(Sweep& sweep) {
  RoutedFaces& faces = sweep.faces;
  while (!faces.late.empty()) {
    std::pop_heap(faces.late.begin(), faces.late.end(), std::greater<>());
    const int s = faces.late.back().second;
    faces.late.pop_back();
    faces.waiting[s] = 0;
    route_again(sweep, s);
  }
}

// turn: slots before this one have had theirs.
void route_pool(Sweep& sweep, int depression, int turn) {
  sweep.faces.turn = turn;
  step_pool(depression, sweep.dt, sweep.graph, sweep.pools, sweep.water, sweep.faces);
  sweep.greatest_pool = std::max(sweep.greatest_pool, sweep.pools.pool(depression).outflow / sweep.dt);
  route_late(sweep); // a broad rim also spills onto ground above its lowest sill
}

// What has come to cells after their turn goes on down the bed.
void route_left(Sweep& sweep) {
  const int slots = static_cast<int>(sweep.graph.bed.size());
  sweep.faces.turn = slots;
  for (int s = 0; s < slots; ++s)
    if (sweep.water.inflow[s] > late_share * sweep.water.depth[s] && sweep.water.pool_of[s] < 0)
      sweep.faces.call_late(s);
  route_late(sweep);
}

void route_turn(Sweep& sweep, std::size_t number, int begin) {
  const RoutedPoolTurn& turn = sweep.slopes.turn[number];
  if (turn.section < 0) return route_pool(sweep, turn.depression, begin);
  sweep.faces.turn = 0; // what comes to cells that have had theirs waits for route_left()
  RouteSection& section = sweep.slopes.sections.sections[turn.section];
  section.place =
      begin - 0.5 + 1e-7 * static_cast<double>(number); // those at one slot in the order of their turns
  step_section(sweep.sections, section);
}

LOWSPOT_VECTOR_CLONES void route_all(Sweep& sweep, std::span<const int> packs) {
  constexpr double none = -std::numeric_limits<double>::infinity();
  const std::vector<RoutedPoolTurn>& turns = sweep.slopes.turn;
  const double* bed = sweep.slopes.bed.data();
  std::size_t turn = 0;
  double next_level = turns.empty() ? none : turns.front().level;
  for (const int pack : packs) {
    const int last = sweep.slopes.pack[pack + 1];
    for (int begin = sweep.slopes.pack[pack]; begin < last;) {
      while (next_level >= bed[begin]) {
        route_turn(sweep, turn, begin);
        next_level = ++turn < turns.size() ? turns[turn].level : none;
      }
      int end = last;
      while (next_level >= bed[end - 1]) --end; // a pool comes in between
      route(sweep, begin, end);
      begin = end;
    }
  }
  const int all = static_cast<int>(sweep.graph.bed.size());
  for (; turn < turns.size(); ++turn) route_turn(sweep, turn, all);
}

} // namespace

Swept sweep_downhill(double dt, std::span<const int> packs, const RouteGraph& graph, RoutedPools& pools,
                     RoutedWater& water, RouteSlopes& slopes, RoutedFaces& faces) {
  Sweep sweep{dt, graph, pools, water, slopes, faces};
  find_turns(pools, slopes.sections.sections, slopes.turn);
  faces.sections = &slopes.sections;
  std::fill(water.done.begin(), water.done.end(), char{0});
  begin_sections(sweep.sections, false);
  route_all(sweep, packs);
  if (!slopes.sections.sections.empty()) route_left(sweep);
  pass_across(sweep.sections);
  water.inflow[graph.bed.size()] = 0; // has left the yard
  Swept swept;
  swept.greatest = std::max(sweep.greatest_pool, sweep.sections.greatest);
  swept.passed = sweep.sections.passed;
  for (int l = 0; l < lanes; ++l) {
    swept.greatest = std::max(swept.greatest, static_cast<double>(sweep.greatest[l]));
    swept.passed += static_cast<double>(sweep.passed[l]);
  }
  return swept;
}

Swept sweep_downhill(double dt, const RouteGraph& graph, RoutedPools& pools, RoutedWater& water,
                     RouteSlopes& slopes, RoutedFaces& faces) {
  return sweep_downhill(dt, slopes.all_packs, graph, pools, water, slopes, faces);
}

void sweep_again(double dt, const RouteGraph& graph, RoutedPools& pools, RoutedWater& water,
                 RouteSlopes& slopes, RoutedFaces& faces) {
  Sweep sweep{dt, graph, pools, water, slopes, faces};
  faces.turn = static_cast<int>(graph.bed.size());
  faces.sections = &slopes.sections;
  faces.again = true;
  begin_sections(sweep.sections, true);
  std::vector<std::pair<double, int>> next; // heap, the highest sill on top
  const auto add = [&](int d) {
    if (!has_risen(pools.pool(d))) return;
    next.emplace_back(pools.way_out(d), d);
    std::push_heap(next.begin(), next.end());
  };
  // Where a pool below has passed on what held one back, that goes on in the next round.
  bool passes = true;
  for (int round = 0; passes && round < most_late_rounds; ++round) {
    passes = false;
    faces.down_only = round % 2 == 0;
    for (const int d : pools.active) add(d);
    while (!next.empty()) {
      std::pop_heap(next.begin(), next.end());
      const auto [sill, d] = next.back();
      next.pop_back();
      if (!next.empty() && next.front().second == d) continue; // twice in it
      faces.fed.clear();
      passes |= spill_again(d, dt, graph, pools, water, faces);
      route_late(sweep);
      for (const int below : faces.fed) {
        take_late(below, graph, pools, water);
        const RoutedPool& pool = pools.pool(below);
        if (below != d && !pool.rim.empty() && pools.way_out(below) < sill) add(below);
      }
    }
  }
  faces.again = faces.down_only = false;
  pass_across(sweep.sections);
}

} // namespace lowspot::surface
