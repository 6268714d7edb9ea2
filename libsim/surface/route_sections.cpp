#include <lowspot/surface/route_sections.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

#include <lowspot/surface/friction.hpp>
#include <lowspot/surface/route_lanes.hpp>

namespace lowspot::surface {
namespace {

// Water belongs to one section where its surface is flatter across the flow than this share of what it is
// along the flow, and than this share of the bed there.
constexpr double level_across = 0.5;
// Cells are in a section only where the water is deeper than this multiple of its fall along the flow from
// cell to cell: shallower water follows the bed.
constexpr double mild = 6;
// Nor where water passes across so slowly that in a step it would make up less than this of a difference.
constexpr double least_gain = 4;
// Depth of the lower water over the higher bed from which the two may be in one section [m].
constexpr double least_cover = 1e-4;
// What hands on less than this share of its water to a section need not have its turn before.
constexpr double least_feed = 0.1;
// The slope where water no more stands level across but does not fall either [m/m].
constexpr double least_slope = 1e-6;
// So much lower is the level at which a section has its turn than that of the one that feeds it [m].
constexpr double later = 1e-9;

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

// A way down that was across a section and is no more: it falls as the water stands now.
void let_fall(const RouteGraph& graph, const RoutedWater& water, RouteSlopes& slopes, int s, int sides) {
  const auto level = [&](int slot) {
    return water.pool_of[slot] >= 0
               ? water.level[slot]
               : graph.bed[slot] + std::max(water.depth[slot] - graph.storage[slot], 0.0);
  };
  for (int side = 0; side < 4; ++side)
    if (sides & 1 << side) {
      const double fall = level(s) - level(slopes.to[side][s]);
      slopes.slope[side][s] = static_cast<float>(std::max(fall / graph.grid.cell, least_slope));
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

  int number(int s) {
    if (found.number[s] >= 0) return found.number[s];
    const int n = static_cast<int>(found.nodes.size());
    found.nodes.push_back(s);
    found.group.push_back(n);
    found.next.push_back(n);
    found.size.push_back(1);
    return found.number[s] = n;
  }
  int root(int n) {
    while (found.group[n] != n) n = found.group[n] = found.group[found.group[n]];
    return n;
  }

  // Whether the water of b and that beyond one of its faces, over a higher bed, stand in one section.
  bool one_section(int b, double deep, const RimFace& face) const {
    const int a = face.link.to, across = face.link.side & 2;
    if (water.pool_of[a] >= 0) return false;
    const double dx = graph.grid.cell, step = graph.bed[a] - graph.bed[b], cover = deep - step;
    if (!(step > 0) || cover < least_cover) return false;
    const double along = std::max(slope(across ^ 2, b), slope((across ^ 2) + 1, b));
    if (!(along > 0)) return false;
    const bool was = found.sides_before[a] >> (face.link.side ^ 1) & 1;
    if (was)
      return cover > 0 && deep > along * dx && std::max(slope(across, b), slope(across + 1, b)) < along;
    if (std::max(slope(across, b), slope(across + 1, b)) > level_across * along) return false;
    if (deep < mild * along * dx) return false;
    const double rise = step + mobile(a) - deep;
    if (rise > level_across * std::min(along * dx, step)) return false;
    // The same must hold beyond, where there is water.
    const int toward = face.link.side ^ 1;
    const double beyond = std::max(slope(across ^ 2, a), slope((across ^ 2) + 1, a));
    if (mobile(a) > dry_depth && std::min(slope(toward, a), rise / dx) > level_across * beyond) return false;
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
      for (int f = graph.first_other[s]; f < graph.first_other[s + 1]; ++f) {
        const RouteLink& link = graph.other_faces[f].link;
        const int from = link.to, k = link.side ^ 1;
        if (from < 0 || slopes.to[k][from] != s || (from == upper && k == side)) continue;
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
      for (int k = graph.first_other[b]; k < graph.first_other[b + 1]; ++k) {
        const RimFace& face = graph.other_faces[k];
        if (face.link.to < 0 || face.sill > graph.bed[face.link.to] || !one_section(b, deep, face)) continue;
        const int a = face.link.to, i = number(a), j = number(b), side = face.link.side ^ 1;
        const int r = root(i), q = root(j), large = found.size[r] < found.size[q] ? q : r,
                  small = r + q - large;
        if (r != q && feeds_itself(small, large, a, side)) continue;
        found.level_sides[a] = static_cast<char>(found.level_sides[a] | 1 << side);
        slopes.slope[side][a] = 0;
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
      for (int k = begin; k < end; ++k)
        found.section[found.nodes[order[k]]] = static_cast<int>(found.sections.size()) - 1;
    }
  }

  // Whether a cell hands on much of its water over a side.
  bool gives(int s, int side) const {
    const double sum = (slope(0, s) + slope(1, s)) + (slope(2, s) + slope(3, s));
    return slope(side, s) > least_feed * sum;
  }

  // What hands water to a section must have its turn before: cells whose bed is lower than its level are
  // sections of their own.
  void add_feeders() {
    for (std::size_t k = 0; k < found.order.size(); ++k) { // grows while it is walked
      const int b = found.nodes[found.order[k]];
      const double level = found.sections[found.section[b]].level;
      for (int f = graph.first_other[b]; f < graph.first_other[b + 1]; ++f) {
        const RouteLink& link = graph.other_faces[f].link;
        const int a = link.to;
        if (a < 0 || found.section[a] >= 0 || water.pool_of[a] >= 0 || graph.bed[a] > level) continue;
        if (slopes.to[link.side ^ 1][a] != b || !gives(a, link.side ^ 1)) continue;
        const int at = static_cast<int>(found.order.size());
        found.order.push_back(number(a));
        found.section[a] = static_cast<int>(found.sections.size());
        found.sections.push_back({at, at + 1, std::max(graph.bed[a] + mobile(a), level + later)});
      }
    }
  }

  // A section stands higher than the one that feeds it while a wave passes: it has its turn later all the
  // same.
  void set_turns() {
    std::vector<RouteSection>& all = found.sections;
    const int count = static_cast<int>(all.size());
    const auto each_fed = [&](int g, const auto& call) {
      for (int k = all[g].begin; k < all[g].end; ++k) {
        const int s = found.nodes[found.order[k]];
        for (int side = 0; side < 4; ++side) {
          const int h = found.section[slopes.to[side][s]];
          if (h >= 0 && h != g && gives(s, side)) call(h);
        }
      }
    };
    found.waits.assign(count, 0);
    for (int g = 0; g < count; ++g) each_fed(g, [&](int h) { ++found.waits[h]; });
    found.ready.clear();
    for (int g = 0; g < count; ++g)
      if (found.waits[g] == 0) found.ready.push_back(g);
    std::size_t at = 0;
    for (;; ++at) {
      if (at == found.ready.size()) { // those left feed each other in a circle: the highest begins
        int next = -1;
        for (int g = 0; g < count; ++g)
          if (found.waits[g] > 0 && (next < 0 || all[g].level > all[next].level)) next = g;
        if (next < 0) break;
        found.waits[next] = 0;
        found.ready.push_back(next);
      }
      const int g = found.ready[at];
      found.waits[g] = -1;
      each_fed(g, [&](int h) {
        if (found.waits[h] <= 0) return;
        all[h].level = std::min(all[h].level, all[g].level - later);
        if (--found.waits[h] == 0) found.ready.push_back(h);
      });
    }
  }
};

} // namespace

void forget_sections(const RouteGraph& graph, const RoutedWater& water, RouteSlopes& slopes) {
  for (const int s : slopes.sections.nodes) let_fall(graph, water, slopes, s, slopes.sections.level_sides[s]);
  clear(slopes.sections);
}

void find_sections(double dt, const RouteGraph& graph, const RoutedWater& water, RouteSlopes& slopes) {
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
  for (const auto& [s, sides] : found.before)
    let_fall(graph, water, slopes, s, sides & ~found.level_sides[s]);
  for (const auto& one : found.before) found.sides_before[one.first] = 0;
  finder.gather();
  finder.add_feeders();
  finder.set_turns();
  for (const int s : found.nodes) found.joined[s] = 1;
  found.degree.assign(found.nodes.size(), 0);
  found.way.assign(found.nodes.size(), 0);
  for (std::size_t f = 0; f < found.faces.size(); ++f)
    for (const int n : {found.faces[f].upper, found.faces[f].lower}) {
      ++found.degree[n];
      found.way[n] ^= static_cast<int>(f);
    }
}

} // namespace lowspot::surface
