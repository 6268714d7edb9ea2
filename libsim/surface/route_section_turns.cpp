#include <lowspot/surface/route_section_turns.hpp>

#include <algorithm>
#include <cmath>

#include <boost/graph/adjacency_list.hpp>
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

  // Sections that hand water to one another in a circle would pass it round and round, each waiting for the
  // others, and so would one whose cells no more stand level beside each other: they are none.
  void part_circles() {
    std::vector<RouteSection>& all = found.sections;
    found.feeds.clear();
    std::vector<char> feeds_itself(all.size(), 0);
    for (int g = 0; g < static_cast<int>(all.size()); ++g)
      for (int k = all[g].begin; k < all[g].end; ++k) {
        const int s = found.nodes[found.order[k]], sides = gives(s);
        for (int side = 0; side < 4; ++side) {
          const int h = found.section[slopes.to[side][s]];
          if (h < 0 || !(sides & 1 << side)) continue;
          if (h != g)
            found.feeds.emplace_back(g, h);
          else if (slopes.to[side][s] != s)
            feeds_itself[g] = 1;
        }
      }
    const boost::adjacency_list<boost::vecS, boost::vecS, boost::directedS> feeds(
        found.feeds.begin(), found.feeds.end(), all.size());
    std::vector<int> circle(all.size());
    const int circles = boost::strong_components(feeds, circle.data());
    std::vector<int> members(circles, 0);
    for (const int c : circle) ++members[c];
    // Circles are numbered from those on that feed no other.
    found.moved.assign(circles, -1);
    std::size_t kept = 0;
    for (std::size_t g = 0; g < all.size(); ++g) {
      const bool alone = members[circle[g]] == 1 && !feeds_itself[g];
      if (alone) found.moved[circle[g]] = static_cast<int>(kept);
      for (int k = all[g].begin; k < all[g].end; ++k) {
        const int s = found.nodes[found.order[k]];
        found.section[s] = alone ? static_cast<int>(kept) : -1;
        if (alone) continue;
        let_fall(graph, water, slopes, s, found.level_sides[s]);
        found.level_sides[s] = 0;
      }
      if (alone) all[kept++] = all[g];
    }
    all.resize(kept);
    std::erase(found.moved, -1);
  }

  // The latest turn of some cells: before the ground and the pools that they hand water to.
  double latest_turn(int begin, int end) const {
    double turn = graph.bed[found.nodes[found.order[end - 1]]];
    for (int k = begin; k < end; ++k) {
      const int s = found.nodes[found.order[k]], sides = gives(s);
      for (int side = 0; side < 4; ++side) {
        const int to = slopes.to[side][s];
        if (to == s || to == static_cast<int>(graph.bed.size()) || found.section[to] >= 0 ||
            !(sides & 1 << side))
          continue;
        const int d = water.pool_of[to];
        turn = std::max(turn, d >= 0 ? pools.turn_level(d) : graph.bed[to]);
      }
    }
    return turn;
  }

  // Sections have their turn as late as what they hand water to allows, so that what hands water to them has
  // had its own. Where ground that does is not that early, it becomes a section of one cell.
  void set_turns() {
    std::vector<RouteSection>& all = found.sections;
    for (RouteSection& one : all) one.turn_level = latest_turn(one.begin, one.end);
    for (std::size_t at = 0; at < found.moved.size(); ++at) { // grows while it is walked
      const int g = found.moved[at];
      all[g].waits = false;
      for (int k = all[g].begin; k < all[g].end; ++k)
        put_feeders_before(found.nodes[found.order[k]], g, all[g].turn_level);
    }
  }

  // Whatever hands water to a cell of a section that has its turn then.
  void put_feeders_before(int b, int g, double turn) {
    for (int f = graph.first_other[b]; f < graph.first_other[b + 1]; ++f) {
      const RouteLink& link = graph.other_faces[f].link;
      const int a = link.to, side = link.side ^ 1;
      if (a < 0 || water.pool_of[a] >= 0 || slopes.to[side][a] != b || found.section[a] == g) continue;
      const bool alone = found.section[a] < 0;
      if (turn < (alone ? graph.bed[a] : found.sections[found.section[a]].turn_level)) continue;
      if (!(gives(a) & 1 << side)) continue;
      if (alone) {
        const int end = static_cast<int>(found.order.size());
        found.order.push_back(found.number_of(a));
        found.section[a] = static_cast<int>(found.sections.size());
        found.sections.push_back({end, end + 1, graph.bed[a] + mobile(a), latest_turn(end, end + 1)});
        found.sections.back().waits = false;
      }
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
      if (at > begin) all[kept++] = {begin, at, one.level};
    }
    all.resize(kept);
    found.order.resize(at);
    // What lay across from a cell that is gone falls again.
    for (const int s : found.nodes)
      for (int side = 0; side < 4; ++side) {
        const bool together = found.section[s] >= 0 && found.section[slopes.to[side][s]] == found.section[s];
        if (!(found.level_sides[s] & 1 << side) || together) continue;
        let_fall(graph, water, slopes, s, 1 << side);
        found.level_sides[s] = static_cast<char>(found.level_sides[s] & ~(1 << side));
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
    if (sides & 1 << side) {
      const double fall = level(s) - level(slopes.to[side][s]);
      slopes.slope[side][s] = static_cast<float>(std::max(fall / graph.grid.cell, least_slope));
    }
}

void order_sections(const RouteGraph& graph, const RoutedPools& pools, const RoutedWater& water,
                    RouteSlopes& slopes) {
  RouteSections& found = slopes.sections;
  Turns turns{graph, pools, water, slopes, found};
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
