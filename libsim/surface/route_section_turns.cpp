#include <lowspot/surface/route_section_turns.hpp>

#include <algorithm>
#include <cmath>

#include <boost/graph/compressed_sparse_row_graph.hpp>
#include <boost/graph/strong_components.hpp>

namespace lowspot::surface {
namespace {

// What hands on less than this share of its water to a section need not have its turn before.
constexpr double least_feed = 0.1;
// The slope where water no more stands level across but does not fall either [m/m].
constexpr double least_slope = 1e-6;
// So much lower is the level at which a section has its turn than that of the one that feeds it [m].
constexpr double later = 1e-9;
// Where cells of the ground close a circle of sections, each is put before another so often and no more.
constexpr int most_raised = 8;

struct Turns {
  const RouteGraph& graph;
  const RoutedPools& pools;
  const RoutedWater& water;
  RouteSlopes& slopes;
  RouteSections& found;

  double mobile(int s) const { return std::max(water.depth[s] - graph.storage[s], 0.0); }
  double slope(int side, int s) const { return std::max(static_cast<double>(slopes.slope[side][s]), 0.0); }

  // The sides over which a cell hands on much of its water, as bits.
  int gives(int s) const {
    const double part = least_feed * ((slope(0, s) + slope(1, s)) + (slope(2, s) + slope(3, s)));
    int sides = 0;
    for (int side = 0; side < 4; ++side) sides |= slope(side, s) > part ? 1 << side : 0;
    return sides;
  }

  // What each cell gives, who is fed by whom, and the latest turn of each section: before the ground and the
  // pools that it hands water to.
  void look_down() {
    std::vector<RouteSection>& all = found.sections;
    found.feeds.clear();
    found.gives.resize(found.nodes.size());
    for (int g = 0; g < static_cast<int>(all.size()); ++g) {
      RouteSection& one = all[g];
      one.turn_level = graph.bed[found.nodes[found.order[one.end - 1]]];
      one.feeds_itself = false;
      int last = g; // mostly all cells feed the same one
      for (int k = one.begin; k < one.end; ++k) {
        const int n = found.order[k], s = found.nodes[n];
        found.gives[n] = static_cast<signed char>(gives(s));
        for (int side = 0; side < 4; ++side) {
          if (!(found.gives[n] & 1 << side)) continue;
          const int to = slopes.to[side][s], h = found.section[to];
          if (h < 0)
            one.turn_level = std::max(one.turn_level, turn_of_ground(s, to));
          else if (h == g)
            one.feeds_itself |= to != s;
          else if (h != last)
            found.feeds.emplace_back(g, last = h);
        }
      }
    }
  }

  // When the ground or a pool below a cell has its turn.
  double turn_of_ground(int s, int to) const {
    if (to == s || to == static_cast<int>(graph.bed.size())) return graph.bed[s] - 1;
    const int d = water.pool_of[to];
    return d >= 0 ? pools.pool(d).turn : graph.bed[to];
  }

  // Sections that hand water to one another in a circle would pass it round and round, each waiting for the
  // others, and so would one whose cells no more stand level beside each other: they are none.
  void part_circles() {
    std::vector<RouteSection>& all = found.sections;
    const boost::compressed_sparse_row_graph<> feeds(boost::edges_are_sorted, found.feeds.begin(),
                                                     found.feeds.end(), all.size());
    std::vector<int> circle(all.size());
    const int circles = boost::strong_components(
        feeds, boost::make_iterator_property_map(circle.begin(), get(boost::vertex_index, feeds)));
    std::vector<int> members(circles, 0);
    for (const int c : circle) ++members[c];
    const auto stays = [&](int g) { return members[circle[g]] == 1 && !all[g].feeds_itself; };
    for (int g = 0; g < static_cast<int>(all.size()); ++g)
      if (!stays(g)) dissolve(all[g]);
    // What feeds one that is gone feeds the ground there.
    for (const auto& [g, h] : found.feeds)
      if (!stays(h) && stays(g)) all[g].turn_level = latest_turn(all[g].begin, all[g].end);
    // Circles are numbered from those on that feed no other.
    found.moved.assign(circles, -1);
    int kept = 0;
    for (int g = 0; g < static_cast<int>(all.size()); ++g) {
      if (!stays(g)) continue;
      found.moved[circle[g]] = kept;
      if (kept != g)
        for (int k = all[g].begin; k < all[g].end; ++k) found.section[found.nodes[found.order[k]]] = kept;
      all[kept++] = all[g];
    }
    all.resize(kept);
    std::erase(found.moved, -1);
  }

  void dissolve(const RouteSection& one) {
    for (int k = one.begin; k < one.end; ++k) {
      const int s = found.nodes[found.order[k]];
      found.section[s] = -1;
      let_fall(graph, water, slopes, s, found.level_sides[s]);
      found.level_sides[s] = 0;
    }
  }

  // The latest turn of some cells whose gives are known.
  double latest_turn(int begin, int end) const {
    double turn = graph.bed[found.nodes[found.order[end - 1]]];
    for (int k = begin; k < end; ++k) {
      const int n = found.order[k], s = found.nodes[n];
      for (int side = 0; side < 4; ++side) {
        const int to = slopes.to[side][s];
        if (!(found.gives[n] & 1 << side) || found.section[to] >= 0) continue;
        turn = std::max(turn, turn_of_ground(s, to));
      }
    }
    return turn;
  }

  // Sections have their turn as late as what they hand water to allows, so that what hands water to them has
  // had its own. Where ground that does is not that early, it becomes a section of one cell.
  void set_turns() {
    std::vector<RouteSection>& all = found.sections;
    // Streams that come to a pool below other cells that it covers.
    for (const int d : pools.active) {
      const RoutedPool& pool = pools.pool(d);
      for (const int place : pool.streams) {
        const int a = pool.cells[place];
        if (graph.bed[a] > pool.turn || found.section[a] >= 0) continue;
        const int sides = gives(a);
        if (sides == 0) continue;
        found.moved.push_back(static_cast<int>(all.size()));
        make_section(a, sides);
        all.back().waits = true;
      }
    }
    for (std::size_t at = 0; at < found.moved.size(); ++at) { // grows while it is walked
      const int g = found.moved[at];
      all[g].waits = false;
      for (int k = all[g].begin; k < all[g].end; ++k)
        put_feeders_before(found.nodes[found.order[k]], g, all[g].turn_level);
    }
  }

  // Of one cell, which gives over these sides.
  void make_section(int a, int sides) {
    const int end = static_cast<int>(found.order.size());
    const int n = found.number_of(a);
    found.order.push_back(n);
    found.gives.resize(found.nodes.size());
    found.gives[n] = static_cast<signed char>(sides);
    found.section[a] = static_cast<int>(found.sections.size());
    found.sections.push_back({end, end + 1, graph.bed[a] + mobile(a), latest_turn(end, end + 1)});
    found.sections.back().waits = false;
  }

  // Whatever hands water to a cell of a section that has its turn then.
  void put_feeders_before(int b, int g, double turn) {
    for (int k = 0; k < 4; ++k) {
      const int a = slopes.above[b][k], side = k ^ 1;
      if (a < 0 || found.section[a] == g) continue;
      const bool alone = found.section[a] < 0;
      if (turn < (alone ? graph.bed[a] : found.sections[found.section[a]].turn_level)) continue;
      if (water.pool_of[a] >= 0) continue;
      const int sides = alone ? gives(a) : found.gives[found.number[a]];
      if (!(sides & 1 << side)) continue;
      if (alone) make_section(a, sides);
      RouteSection& above = found.sections[found.section[a]];
      above.turn_level = std::max(above.turn_level, turn + later);
      if (above.waits || above.raised == most_raised) continue;
      ++above.raised;
      above.waits = true;
      found.moved.push_back(found.section[a]);
    }
  }

  // Without the sections of one cell, and without cells that a pool has reached.
  void thin_out() {
    std::vector<RouteSection>& all = found.sections;
    std::size_t kept = 0;
    int at = 0;
    for (RouteSection one : all) {
      const int begin = at;
      const bool single = one.end - one.begin == 1;
      for (int k = one.begin; k < one.end; ++k) {
        const int n = found.order[k], s = found.nodes[n];
        const bool leaves = single || water.pool_of[s] >= 0;
        found.section[s] = leaves ? -1 : static_cast<int>(kept);
        found.joined[s] = !leaves;
        if (!leaves) found.order[at++] = n;
      }
      if (at == begin) continue;
      all[kept] = {begin, at, one.level};
      all[kept++].aslant = one.aslant;
    }
    all.resize(kept);
    found.order.resize(at);
    // What lay across from a cell that is gone falls again.
    for (const int s : found.nodes) {
      const int carried_in = found.section[found.nodes[found.carrier[found.number[s]]]];
      for (int side = 0; side < 4; ++side) {
        const bool together = found.section[s] >= 0 && found.section[slopes.to[side][s]] == found.section[s];
        const bool held = found.section[s] >= 0 && found.section[s] == carried_in;
        const int gone = (together ? 0 : level_side(side)) | (held ? 0 : held_side(side));
        if (!held) found.carrier[found.number[s]] = found.number[s];
        if (!(found.level_sides[s] & gone)) continue;
        let_fall(graph, water, slopes, s, found.level_sides[s] & gone);
        found.level_sides[s] = static_cast<char>(found.level_sides[s] & ~gone);
      }
    }
  }
};

} // namespace

void let_fall(const RouteGraph& graph, const RoutedWater& water, RouteSlopes& slopes, int s, int sides) {
  const auto level = [&](int slot) {
    return water.pool_of[slot] >= 0
               ? water.level[slot]
               : graph.bed[slot] + std::max(water.depth[slot] - graph.storage[slot], 0.0);
  };
  for (int side = 0; side < 4; ++side)
    if (sides & (level_side(side) | held_side(side))) {
      const double fall = level(s) - level(slopes.to[side][s]);
      slopes.slope[side][s] = static_cast<float>(std::max(fall / graph.grid.cell, least_slope));
    }
}

void order_sections(const RouteGraph& graph, const RoutedPools& pools, const RoutedWater& water,
                    RouteSlopes& slopes) {
  RouteSections& found = slopes.sections;
  Turns turns{graph, pools, water, slopes, found};
  turns.look_down();
  turns.part_circles();
  turns.set_turns();
  found.degree.resize(found.nodes.size(), 0);
  found.way.resize(found.nodes.size(), 0);
  for (const int s : found.nodes) found.joined[s] = found.section[s] >= 0;
}

void keep_sections(const RouteGraph& graph, const RoutedPools& pools, const RoutedWater& water,
                   RouteSlopes& slopes) {
  Turns{graph, pools, water, slopes, slopes.sections}.thin_out();
  order_sections(graph, pools, water, slopes);
}

} // namespace lowspot::surface
