#include <lowspot/surface/route_sections.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include <lowspot/surface/friction.hpp>
#include <lowspot/surface/route_lanes.hpp>
#include <lowspot/surface/route_section_turns.hpp>

namespace lowspot::surface {
namespace {

// Water belongs to one section where its surface is flatter across the flow than this share of what it is
// along the flow, and than this share of the bed there.
constexpr double level_across = 0.5;
// What stands level has banks: water is in no section where it falls across, to a lower cell that is not in
// it, by more than this share of its fall along the flow; and once in one no more from the second share on.
// Sheets on a slope at a small angle to the cells would else be level from bank to bank.
constexpr double way_out = 0.1, way_out_kept = 0.2;
// Cells are in a section only where the water is deeper than this multiple of its fall along the flow from
// cell to cell: shallower water follows the bed.
constexpr double mild = 6;
// Nor beside a section that is there than where it is deeper than this.
constexpr double mild_beside = 2;
// Nor where water passes across so slowly that in a step it would make up less than this of a difference.
constexpr double least_gain = 4;
// A cell whose water falls along the flow by less than this share of what its section does has no way of its
// own there: the bed rises down the flow on one bank of a swale aslant to the cells.
constexpr double own_way = 0.1;
// Depth of the lower water over the higher bed from which the two may be in one section [m].
constexpr double least_cover = 1e-4;

// Slots whose water covers a higher bed beside them and is deeper than what it falls from cell to cell.
LOWSPOT_VECTOR_CLONES void find_deep(const RouteGraph& graph, const RoutedWater& water,
                                     const RouteSlopes& slopes, std::vector<int>& deep) {
  deep.clear();
  const int slots = static_cast<int>(graph.bed.size());
  const float dx = static_cast<float>(graph.grid.cell);
  for (int begin = 0; begin < slots; begin += lanes) {
    const Singles depth = singles(load<Doubles>(&water.depth[begin]) - load<Doubles>(&slopes.storage[begin]));
    Singles least = load<Singles>(&slopes.sections.step_up[begin]);
    for (const Aligned<float>& slope : slopes.slope) least = larger(least, dx * load<Singles>(&slope[begin]));
    const Ints found = (depth > least) & (load<Ints>(&water.pool_of[begin]) < 0);
    if (!any(found)) continue;
    for (int l = 0; l < std::min(lanes, slots - begin); ++l)
      if (found[l]) deep.push_back(begin + l);
  }
}

void clear(RouteSections& found) {
  for (const int s : found.nodes) {
    found.number[s] = found.section[s] = -1;
    found.joined[s] = found.level_sides[s] = 0;
  }
  found.nodes.clear();
  found.group.clear();
  found.next.clear();
  found.size.clear();
  found.along.clear();
  found.carrier.clear();
  found.toward.clear();
  found.order.clear();
  found.faces.clear();
  found.sections.clear();
}

struct Finder {
  double dt;
  const RouteGraph& graph;
  const RoutedWater& water;
  RouteSlopes& slopes;
  RouteSections& found;

  double mobile(int s) const { return std::max(water.depth[s] - graph.storage[s], 0.0); }
  double slope(int side, int s) const { return std::max(static_cast<double>(slopes.slope[side][s]), 0.0); }

  int root(int n) {
    while (found.group[n] != n) n = found.group[n] = found.group[found.group[n]];
    return n;
  }

  // Whether a cell is in a section that flows over these sides.
  bool flows_over(int s, int across) const {
    const int n = found.number[s];
    return n >= 0 && found.toward[n] >= 0 && (found.toward[n] & 2) == across;
  }

  // The fall along the flow, where that crosses `across`, of a cell or of the section it is in [m/m].
  double along(int s, int across) const {
    const double own = std::max(slope(across ^ 2, s), slope((across ^ 2) + 1, s));
    const int n = found.number[s];
    return n < 0 || found.toward[n] < 0 ? own : std::max(own, static_cast<double>(found.along[n]));
  }

  // How much the water now falls over a side down which it goes [m/m].
  double falls(int side, int s) const {
    const int to = slopes.to[side][s];
    if (!(slope(side, s) > 0)) return -std::numeric_limits<double>::infinity();
    if (to == static_cast<int>(graph.bed.size())) return slope(side, s);
    const double below = water.pool_of[to] >= 0 ? water.level[to] : graph.bed[to] + mobile(to);
    return (graph.bed[s] + mobile(s) - below) / graph.grid.cell;
  }

  // Whether a cell is in a section of a known direction, or would be in one that crosses the flow.
  bool has_direction(int s, int across) const {
    const int n = found.number[s];
    return graph.stream[s].axis == (across ^ 2) || (n >= 0 && found.toward[n] >= 0);
  }

  bool is_bottom(int s, int across) const {
    return slopes.to[across][s] == s && slopes.to[across + 1][s] == s;
  }

  // Whether a section that crosses `across` would lie along the main stream through this cell, or along the
  // trough of which it is the bottom.
  bool lies_along(int s, int across) const {
    if (has_direction(s, across) || graph.stream[s].axis != across) return false;
    return graph.stream[s].through || is_bottom(s, across ^ 2);
  }

  // A cell that has come to a section by a lower neighbour: whether it hands water on along the flow itself.
  // None of a section does against its flow.
  void find_carrier(int upper, int lower, int across) {
    const int i = found.number[upper], j = found.number[lower], first = across ^ 2;
    if (found.toward[j] < 0) {
      if (graph.stream[lower].axis != first) return;
      found.toward[j] = first + (falls(first + 1, lower) > falls(first, lower) ? 1 : 0);
    }
    found.along[j] = static_cast<float>(along(lower, across));
    if (found.toward[i] >= 0) return; // by another face
    found.toward[i] = found.toward[j];
    const int toward = found.toward[i], back = toward ^ 1;
    int held = 0;
    const auto leaves = [&](int side) {
      return slopes.to[side][upper] == static_cast<int>(graph.bed.size());
    };
    const auto hold = [&](int side) {
      if (slopes.to[side][upper] == upper || leaves(side)) return;
      held |= held_side(side);
      slopes.slope[side][upper] = 0;
    };
    hold(back);
    if (!leaves(toward) && !(slope(toward, upper) > own_way * static_cast<double>(found.along[j]))) {
      hold(toward);
      found.along[i] = found.along[j];
      found.carrier[i] = found.carrier[j];
    }
    found.level_sides[upper] = static_cast<char>(found.level_sides[upper] | held);
  }

  // Whether the water of b and that beyond one of its faces, over a higher bed, stand in one section.
  bool one_section(int b, double deep, int k) const {
    const int a = slopes.above[b][k], across = k & 2;
    if (water.pool_of[a] >= 0) return false;
    const double dx = graph.grid.cell, step = graph.bed[a] - graph.bed[b], cover = deep - step;
    if (!(step > 0) || cover < least_cover) return false;
    if (flows_over(a, across) || flows_over(b, across)) return false;
    const double along = this->along(b, across);
    if (!(along > 0)) return false;
    const bool was = found.sides_before[a] >> (k ^ 1) & 1;
    if (was)
      return cover > 0 && deep > along * dx &&
             std::max(slope(across, b), slope(across + 1, b)) < way_out_kept * along;
    if (std::max(slope(across, b), slope(across + 1, b)) > way_out * along) return false;
    if (deep < (found.number[b] >= 0 ? mild_beside : mild) * along * dx) return false;
    const double rise = step + mobile(a) - deep;
    if (rise > level_across * std::min(along * dx, step)) return false;
    // The same must hold beyond, where there is water.
    const int toward = k ^ 1;
    const double beyond = std::max(has_direction(b, across) ? along : 0.0, this->along(a, across));
    if (mobile(a) > dry_depth && std::min(slope(toward, a), rise / dx) > level_across * beyond) return false;
    if (lies_along(b, across)) return false;
    return conveyance(graph, b, std::max(cover, mobile(a))) * dt > least_gain * std::sqrt(along) * dx * dx;
  }

  // Whether a section would hand water to itself, but for one face, if two were one.
  bool feeds_itself(int small, int large, int upper, int side) {
    int n = small;
    do {
      const int s = found.nodes[n];
      const auto other = [&](int t) { return found.number[t] >= 0 && root(found.number[t]) == large; };
      for (int k = 0; k < 4; ++k) {
        const int to = slopes.to[k][s];
        if (to != s && !(s == upper && k == side) && slope(k, s) > 0 && other(to)) return true;
      }
      for (int k = 0; k < 4; ++k) {
        const int from = slopes.above[s][k ^ 1];
        if (from < 0 || (from == upper && k == side)) continue;
        if (slope(k, from) > 0 && other(from)) return true;
      }
      n = found.next[n];
    } while (n != small);
    return false;
  }

  void join() {
    find_deep(graph, water, slopes, found.deep);
    for (std::size_t at = found.deep.size(); at-- > 0;) {
      const int b = found.deep[at];
      const double deep = water.depth[b] - slopes.storage[b];
      for (int k = 0; k < 4; ++k) {
        const int a = slopes.above[b][k];
        if (a < 0 || !one_section(b, deep, k)) continue;
        const int i = found.number_of(a), j = found.number_of(b), side = k ^ 1;
        const int r = root(i), q = root(j), large = found.size[r] < found.size[q] ? q : r,
                  small = r + q - large;
        if (r != q && feeds_itself(small, large, a, side)) continue;
        found.level_sides[a] = static_cast<char>(found.level_sides[a] | 1 << side);
        slopes.slope[side][a] = 0;
        find_carrier(a, b, k & 2);
        if (r == q) continue;
        found.group[small] = large;
        found.size[large] += found.size[small];
        std::swap(found.next[small], found.next[large]); // two rings become one
        found.faces.push_back({i, j, side});
      }
    }
  }

  // Members of a section follow one another, by falling bed.
  void gather() {
    const int all = static_cast<int>(found.nodes.size());
    std::vector<int>& order = found.order;
    for (int first = 0; first < all; ++first) {
      if (found.group[first] != first) continue; // it is in the ring of another
      const int begin = static_cast<int>(order.size());
      for (int n = first;;) {
        order.push_back(n);
        n = found.next[n];
        if (n == first) break;
      }
      const int end = static_cast<int>(order.size());
      std::sort(order.begin() + begin, order.end(),
                [&](int n, int m) { return found.nodes[n] < found.nodes[m]; });
      const int lowest = found.nodes[order.back()];
      found.sections.push_back({begin, end, graph.bed[lowest] + mobile(lowest)});
      // Water that stands level along a row of cells across which it runs aslant: from row to row the surface
      // falls by the cosine more, and it passes through the cosine of the row.
      if (const int n = order.back(); found.toward[n] >= 0 && is_bottom(lowest, (found.toward[n] & 2) ^ 2))
        found.sections.back().aslant = static_cast<double>(graph.stream[lowest].aslant);
      for (int k = begin; k < end; ++k)
        found.section[found.nodes[order[k]]] = static_cast<int>(found.sections.size()) - 1;
    }
  }
};

} // namespace

void forget_sections(const RouteGraph& graph, const RoutedWater& water, RouteSlopes& slopes) {
  for (const int s : slopes.sections.nodes) let_fall(graph, water, slopes, s, slopes.sections.level_sides[s]);
  clear(slopes.sections);
}

void find_sections(double dt, const RouteGraph& graph, const RoutedPools& pools, const RoutedWater& water,
                   RouteSlopes& slopes) {
  RouteSections& found = slopes.sections;
  found.before.clear();
  for (const int s : found.nodes)
    if (found.level_sides[s]) {
      found.before.emplace_back(s, found.level_sides[s]);
      found.sides_before[s] = found.level_sides[s];
    }
  clear(found);
  Finder finder{dt, graph, water, slopes, found};
  finder.join();
  finder.gather();
  for (const auto& [s, sides] : found.before) {
    const int now = static_cast<unsigned char>(found.level_sides[s]);
    const int either = now | now << 4 | now >> 4;
    let_fall(graph, water, slopes, s, sides & ~either);
  }
  for (const auto& one : found.before) found.sides_before[one.first] = 0;
  found.degree.assign(found.nodes.size(), 0);
  found.way.assign(found.nodes.size(), 0);
  for (std::size_t f = 0; f < found.faces.size(); ++f)
    for (const int n : {found.faces[f].upper, found.faces[f].lower}) {
      ++found.degree[n];
      found.way[n] ^= static_cast<int>(f);
    }
  order_sections(graph, pools, water, slopes);
}

} // namespace lowspot::surface
