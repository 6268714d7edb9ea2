#include <lowspot/terrain/low_spot_map.hpp>

#include <algorithm>
#include <array>
#include <utility>

namespace lowspot::terrain {
namespace {

class Nesting {
public:
  Nesting(const Ground& ground, double least_depth)
      : ground_(ground), least_depth_(least_depth), tree_(build_depression_tree(ground)),
        pools_(outermost_pools(ground, tree_, least_depth)) {
    map_.spots = list_low_spots(ground, tree_, pools_, spot_of_pool_);
    basin_of_pit_.assign(tree_.depressions.size(), -1);
    seen_.assign(ground.grid.cells(), 0);
  }

  LowSpotMap run() {
    for (std::size_t p = 0; p < pools_.pools.size(); ++p)
      if (spot_of_pool_[p] > 0) add_pool(p);
    for (const auto& [basin, cell] : spills_) map_.basins[basin].spills_to = basin_below(cell);
    // Where more than two meet at one level, the sill between the first two is not under water when they are
    // full: their areas are added up.
    for (NestedBasin& basin : map_.basins)
      if (basin.parts[0] >= 0 && map_.basins[basin.parts[0]].spill_level >= basin.spill_level)
        basin.area = map_.basins[basin.parts[0]].area + map_.basins[basin.parts[1]].area;
    map_.basin_of_cell.resize(tree_.pit.size());
    for (std::size_t c = 0; c < tree_.pit.size(); ++c) {
      const int pit = tree_.pit[c] < 0 ? -1 : pit_of_reported(tree_, pools_, tree_.pit[c]);
      map_.basin_of_cell[c] = pit < 0 ? -1 : basin_of_pit_[pit];
    }
    return std::move(map_);
  }

private:
  double depth(int d) const { return tree_.depressions[d].spill_level - tree_.depressions[d].bottom; }

  void add_pool(std::size_t p) {
    const Pool& pool = pools_.pools[p];
    const LowSpot& spot = map_.spots[spot_of_pool_[p] - 1];
    const int top = add(pool.depression, spot.id);
    NestedBasin& whole = map_.basins[top];
    whole.spill_level = spot.spill_level;
    whole.area = spot.area;
    whole.volume = spot.volume;
    whole.spill_at = spot.spill_at;
    if (pool.to >= 0) spills_.push_back({top, pool.to});
  }

  // The basin of a depression and all that is nested in it. Goes down the deep side while the other is too
  // shallow to be named; the tree may be as deep as the ground has pits, so the way down is a loop.
  int add(int depression, int spot) {
    struct Open {
      int depression, parent, place;
    };
    std::vector<Open> open = {{depression, -1, 0}};
    std::vector<int> made;
    std::vector<std::array<int, 3>> links; // child, parent, place among its parts
    while (!open.empty()) {
      const Open next = open.back();
      open.pop_back();
      const int basin = static_cast<int>(map_.basins.size());
      map_.basins.push_back(basin_of(next.depression, spot, next.parent < 0));
      made.push_back(basin);
      if (next.parent >= 0) {
        links.push_back({basin, next.parent, next.place});
        spills_.push_back({basin, tree_.depressions[next.depression].spill_to});
      }
      int at = next.depression;
      std::vector<int> shallow;
      while (tree_.depressions[at].left >= 0) {
        int deep = tree_.depressions[at].left, other = tree_.depressions[at].right;
        if (depth(deep) < depth(other)) std::swap(deep, other);
        if (depth(other) > least_depth_) {
          open.push_back({deep, basin, 0});
          open.push_back({other, basin, 1});
          break;
        }
        shallow.push_back(other);
        at = deep;
      }
      const bool single = tree_.depressions[at].left < 0;
      if (single) mark(at, basin);
      for (const int d : shallow) {
        if (single)
          mark(d, basin);
        else
          shallow_.push_back({d, tree_.depressions[d].spill_to, basin});
      }
    }
    for (const auto& [child, parent, place] : links) {
      map_.basins[child].parent = parent;
      map_.basins[parent].parts[place] = child;
    }
    // What is too shallow to be named spills into one of the single basins, and so does its ground.
    while (!shallow_.empty()) {
      const Shallow item = shallow_.back();
      shallow_.pop_back();
      const int pit = tree_.pit[item.to];
      int basin = pit < 0 ? -1 : basin_of_pit_[pit];
      if (basin < 0)
        for (basin = item.above; map_.basins[basin].parts[0] >= 0;) basin = map_.basins[basin].parts[0];
      mark(item.depression, basin);
    }
    return turn_round(made);
  }

  // Parts before what they become.
  int turn_round(const std::vector<int>& made) {
    const int first = made.front(), last = made.back();
    const auto other = [&](int basin) { return basin < 0 ? -1 : first + last - basin; };
    std::reverse(map_.basins.begin() + first, map_.basins.end());
    for (int b = first; b <= last; ++b) {
      NestedBasin& basin = map_.basins[b];
      basin.parent = other(basin.parent);
      for (int& part : basin.parts) part = other(part);
    }
    for (auto& [basin, cell] : spills_)
      if (basin >= first) basin = other(basin);
    for (const int pit : marked_) basin_of_pit_[pit] = other(basin_of_pit_[pit]);
    marked_.clear();
    return last;
  }

  NestedBasin basin_of(int d, int spot, bool whole) {
    const Depression& depression = tree_.depressions[d];
    const Grid& grid = ground_.grid;
    const auto centre = [&](int cell) { return Point{grid.x(grid.column(cell)), grid.y(grid.row(cell))}; };
    NestedBasin basin;
    basin.spot = spot;
    basin.at = centre(depression.bottom_cell);
    basin.bottom = depression.bottom;
    if (whole) return basin; // the rest comes from the low spot
    basin.spill_level = depression.spill_level;
    basin.spill_at = centre(depression.spill_from);
    basin.volume = depression.volume;
    std::vector<int> cells;
    double flooded = 0;
    flood(ground_, depression.bottom_cell, depression.spill_level, seen_, cells, flooded);
    for (const int cell : cells) seen_[cell] = 0;
    basin.area = static_cast<double>(cells.size()) * grid.cell_area();
    return basin;
  }

  void mark(int depression, int basin) {
    std::vector<int> open = {depression};
    while (!open.empty()) {
      const int d = open.back();
      open.pop_back();
      if (tree_.depressions[d].left < 0) {
        basin_of_pit_[d] = basin;
        marked_.push_back(d);
        continue;
      }
      open.push_back(tree_.depressions[d].left);
      open.push_back(tree_.depressions[d].right);
    }
  }

  int basin_below(int cell) const {
    const int pit = tree_.pit[cell] < 0 ? -1 : pit_of_reported(tree_, pools_, tree_.pit[cell]);
    return pit < 0 ? -1 : basin_of_pit_[pit];
  }

  struct Shallow {
    int depression, to, above;
  };

  const Ground& ground_;
  double least_depth_;
  DepressionTree tree_;
  Pools pools_;
  LowSpotMap map_;
  std::vector<int> spot_of_pool_, basin_of_pit_, marked_;
  std::vector<Shallow> shallow_;
  std::vector<std::pair<int, int>> spills_; // basin, cell beyond its sill
  Mask seen_;
};

} // namespace

LowSpotMap map_low_spots(const Ground& ground, double least_depth) {
  return Nesting(ground, least_depth).run();
}

} // namespace lowspot::terrain
