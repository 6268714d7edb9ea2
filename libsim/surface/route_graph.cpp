#include <lowspot/surface/route_graph.hpp>

#include <algorithm>
#include <array>
#include <cmath>

#include <lowspot/relief/ordered_cells.hpp>
#include <lowspot/surface/edges.hpp>
#include <lowspot/surface/friction.hpp>
#include <lowspot/surface/workspace.hpp>

namespace lowspot::surface {
namespace {

// The way of a stream is looked at over so many cells up and down. It goes along x or y where it has no more
// steps the other way than this share.
constexpr int looked_at = 16;
constexpr double clearly = 0.8;
// A stream comes from and goes to where it goes by so many steps each.
constexpr int least_along = 4;

struct WayCount {
  int x = 0, y = 0; // steps along
};

struct Builder {
  Builder(const Terrain& terrain_, RouteGraph& graph_)
      : terrain(terrain_), graph(graph_), grid(terrain_.grid), work(terrain_, Options{}) {}

  void build() {
    graph.grid = grid;
    graph.datum = work.datum;
    crest_x = terrain.crest_x;
    crest_y = terrain.crest_y;
    for (double& crest : crest_x) crest -= work.datum;
    for (double& crest : crest_y) crest -= work.datum;
    for (const Outfall& outfall : work.outfalls) {
      const int k = index_of(outfall);
      double& crest = crest_of(outfall.cell, terrain.open_faces[k].side);
      crest = std::max(crest, outfall.sill);
      open.push_back({outfall.cell, terrain.open_faces[k].side});
    }
    graph.tree = relief::build_depression_tree({grid, terrain.active, work.bed, crest_x, crest_y, open});
    number_leaves();
    place_cells();
    list_drains();
    link_cells();
    find_descents();
    find_streams();
  }

  int index_of(const Outfall& outfall) const {
    return static_cast<int>(work.outfall_order[&outfall - work.outfalls.data()]);
  }

  double& crest_of(int cell, int side) {
    const int i = grid.column(cell), j = grid.row(cell);
    return side < 2 ? crest_x[grid.x_face(i + side, j)] : crest_y[grid.y_face(i, j + side - 2)];
  }

  int neighbour(int cell, int side) const {
    constexpr std::array<int, 4> step_i = {-1, 1, 0, 0}, step_j = {0, 0, -1, 1};
    const int i = grid.column(cell) + step_i[side], j = grid.row(cell) + step_j[side];
    if (!grid.inside(i, j)) return -1;
    const std::size_t other = grid.index(i, j);
    return terrain.active[other] ? static_cast<int>(other) : -1;
  }

  bool passable(int a, int b, int side) { return crest_of(a, side) <= std::max(work.bed[a], work.bed[b]); }

  // Leaves of each depression are numbered so that they follow one another.
  void number_leaves() {
    const std::vector<relief::Depression>& all = graph.tree.depressions;
    graph.parent.assign(all.size(), -1);
    graph.leaf_begin.assign(all.size(), 0);
    graph.leaf_end.assign(all.size(), 0);
    graph.leaf_of.assign((all.size() + 1) / 2 + all.size(), -1);
    std::vector<int> size(all.size(), 1);
    for (std::size_t d = 0; d < all.size(); ++d) {
      if (all[d].left < 0) continue;
      graph.parent[all[d].left] = graph.parent[all[d].right] = static_cast<int>(d);
      size[d] = size[all[d].left] + size[all[d].right];
    }
    int next = 0;
    for (std::size_t d = all.size(); d-- > 0;) { // parents before their parts
      if (graph.parent[d] < 0) {
        graph.leaf_begin[d] = next;
        next += size[d];
      }
      graph.leaf_end[d] = graph.leaf_begin[d] + size[d];
      if (all[d].left < 0) graph.leaf_of[graph.leaf_begin[d]] = static_cast<int>(d);
      if (all[d].left < 0) continue;
      graph.leaf_begin[all[d].left] = graph.leaf_begin[d];
      graph.leaf_begin[all[d].right] = graph.leaf_begin[d] + size[all[d].left];
    }
  }

  // Steps to the nearest way down within a level patch, in `steps`; 0 where there is no patch.
  void measure_patches(const std::vector<int>& order) {
    steps.assign(grid.cells(), 0);
    std::vector<char> seen(grid.cells(), 0), outlet(grid.cells(), 0);
    for (const relief::OpenFace& face : open)
      if (crest_of(face.cell, face.side) <= work.bed[face.cell]) outlet[face.cell] = 1;
    std::vector<int> front;
    for (std::size_t begin = 0, end = 0; begin < order.size(); begin = end) {
      const double z = work.bed[order[begin]];
      while (end < order.size() && work.bed[order[end]] == z) ++end;
      if (end - begin == 1) continue;
      front.clear();
      for (std::size_t k = begin; k < end; ++k) {
        bool falls = outlet[order[k]];
        for (int side = 0; side < 4 && !falls; ++side) {
          const int other = neighbour(order[k], side);
          falls = other >= 0 && work.bed[other] < z && passable(order[k], other, side);
        }
        if (!falls) continue;
        seen[order[k]] = 1;
        front.push_back(order[k]);
      }
      for (std::size_t at = 0; at < front.size(); ++at)
        for (int side = 0; side < 4; ++side) {
          const int other = neighbour(front[at], side);
          if (other < 0 || seen[other] || work.bed[other] != z || !passable(front[at], other, side)) continue;
          seen[other] = 1;
          steps[other] = steps[front[at]] + 1;
          front.push_back(other);
        }
    }
  }

  void place_cells() {
    std::vector<int> order = relief::ordered_cells(terrain.active, work.bed);
    measure_patches(order);
    std::reverse(order.begin(), order.end());
    std::stable_sort(order.begin(), order.end(), [&](int a, int b) {
      return work.bed[a] != work.bed[b] ? work.bed[a] > work.bed[b] : steps[a] > steps[b];
    });
    graph.cell = order;
    graph.slot.assign(grid.cells(), -1);
    for (std::size_t s = 0; s < order.size(); ++s) {
      const int cell = order[s];
      graph.slot[cell] = static_cast<int>(s);
      graph.bed.push_back(work.bed[cell]);
      graph.storage.push_back(work.storage[cell]);
      graph.roughness_thin.push_back(work.roughness_thin[cell]);
      graph.inverse_n_thin.push_back(1 / std::sqrt(work.roughness_thin[cell]));
      graph.log_ratio.push_back(work.log_ratio[cell]);
      graph.vegetation.push_back(work.vegetation[cell]);
      const int leaf = graph.tree.pit[cell];
      graph.pit.push_back(leaf < 0 ? -1 : graph.leaf_begin[leaf]);
      int home = leaf < 0 ? -1 : leaf;
      while (home >= 0 && graph.tree.depressions[home].spill_level < work.bed[cell])
        home = graph.parent[home];
      graph.home.push_back(home);
    }
  }

  void list_drains() {
    std::vector<int>& first = graph.first_drain;
    first.assign(graph.leaf_of.size() + 1, 0);
    for (const int leaf : graph.pit)
      if (leaf >= 0) ++first[leaf + 1];
    for (std::size_t leaf = 1; leaf < first.size(); ++leaf) first[leaf] += first[leaf - 1];
    graph.drains.resize(first.back());
    std::vector<int> next(first.begin(), first.end() - 1);
    for (int s = static_cast<int>(graph.pit.size()) - 1; s >= 0; --s) // slots run by falling bed
      if (graph.pit[s] >= 0) graph.drains[next[graph.pit[s]]++] = s;
  }

  void link_cells() {
    std::vector<std::vector<const Outfall*>> outfalls(grid.cells());
    for (const Outfall& outfall : work.outfalls) outfalls[outfall.cell].push_back(&outfall);
    for (const int a : graph.cell) {
      graph.first_link.push_back(static_cast<int>(graph.links.size()));
      graph.first_other.push_back(static_cast<int>(graph.other_faces.size()));
      for (int side = 0; side < 4; ++side) {
        const int b = neighbour(a, side);
        if (b < 0) continue;
        RouteLink link = make_link(a, side);
        link.to = graph.slot[b];
        const double sill = std::max({work.bed[a], work.bed[b], crest_of(a, side)});
        const bool down = work.bed[b] < work.bed[a] || (work.bed[b] == work.bed[a] && steps[b] < steps[a]);
        if (sill == work.bed[a] && down)
          graph.links.push_back(link);
        else
          graph.other_faces.push_back({link, graph.slot[a], sill});
      }
      for (const Outfall* outfall : outfalls[a]) {
        RouteLink link = make_link(a, terrain.open_faces[index_of(*outfall)].side);
        link.open_face = index_of(*outfall);
        link.slope = slope_beyond(*outfall);
        link.wall = outfall->wall;
        if (outfall->sill <= work.bed[a])
          graph.links.push_back(link);
        else
          graph.other_faces.push_back({link, graph.slot[a], outfall->sill});
      }
    }
    graph.first_link.push_back(static_cast<int>(graph.links.size()));
    graph.first_other.push_back(static_cast<int>(graph.other_faces.size()));
  }

  void find_descents() {
    for (std::size_t s = 0; s < graph.cell.size(); ++s) {
      int lowest = -1;
      for (int k = graph.first_link[s]; k < graph.first_link[s + 1]; ++k)
        lowest = std::max(lowest, graph.links[k].to);
      graph.descent.push_back(lowest);
    }
    std::vector<int> drained(graph.cell.size(), 1); // cells, through each
    graph.ascent.assign(graph.cell.size(), -1);
    for (std::size_t s = 0; s < graph.cell.size(); ++s) {
      const int to = graph.descent[s];
      if (to < 0) continue;
      drained[to] += drained[s];
      int& main = graph.ascent[to];
      if (main < 0 || drained[s] >= drained[main]) main = static_cast<int>(s);
    }
  }

  // Up and down a way, in turn over so many cells.
  WayCount count_steps(const std::vector<int>& next, int from) const {
    WayCount found;
    for (int s = from, taken = 0; next[s] >= 0 && taken < looked_at; s = next[s], ++taken)
      ++(grid.column(graph.cell[s]) == grid.column(graph.cell[next[s]]) ? found.y : found.x);
    return found;
  }

  // Where neither is clear it goes as it does below, so that no stream at some 45 degrees changes on its way.
  void find_streams() {
    graph.stream.assign(graph.cell.size(), {});
    for (int s = static_cast<int>(graph.cell.size()) - 1; s >= 0; --s) {
      Stream& one = graph.stream[s];
      const WayCount up = count_steps(graph.ascent, s), down = count_steps(graph.descent, s);
      const bool ends = down.x + down.y < looked_at;
      const int x = down.x + (ends ? up.x : 0), y = down.y + (ends ? up.y : 0), below = graph.descent[s];
      if (x + y == 0) continue; // alone
      if (below >= 0) one.axis = graph.stream[below].axis;
      if (std::min(x, y) <= clearly * std::max(x, y)) one.axis = x >= y ? 0 : 2;
      if (one.axis < 0) continue;
      const double along = one.axis == 0 ? x : y;
      one.aslant = static_cast<float>(std::pow(along / std::hypot(x, y), 1.5));
      const auto goes_with = [&](const WayCount& part) {
        const int with = one.axis == 0 ? part.x : part.y, aside = part.x + part.y - with;
        return with >= least_along && with + 2 >= aside;
      };
      one.through = goes_with(up) && goes_with(down);
    }
  }

  RouteLink make_link(int cell, int side) const {
    const int i = grid.column(cell), j = grid.row(cell);
    RouteLink link;
    link.side = side;
    link.face = static_cast<int>(side < 2 ? grid.x_face(i + side, j) : grid.y_face(i, j + side - 2));
    return link;
  }

  const Terrain& terrain;
  RouteGraph& graph;
  const Grid& grid;
  Workspace work;         // checks the terrain and knows the outfalls
  Field crest_x, crest_y; // m above the datum, rims at open faces included
  std::vector<relief::OpenFace> open;
  std::vector<int> steps;
};

} // namespace

RouteGraph::RouteGraph(const Terrain& terrain) {
  Builder(terrain, *this).build();
}

double conveyance(const RouteGraph& graph, int slot, double h) {
  if (!(h > 0)) return 0;
  const double power = h * h * inverse_cube_root(h), plants = graph.vegetation[slot];
  if (h <= 0.5 * plants) return power * graph.inverse_n_thin[slot];
  return power / std::sqrt(roughness_at(h, graph.roughness_thin[slot], graph.log_ratio[slot], plants));
}

} // namespace lowspot::surface
