// Low spots with the basins nested in them, and the ground that sheds to each.
#pragma once
#include <vector>

#include <lowspot/terrain/low_spots.hpp>
#include <lowspot/terrain/pools.hpp>

namespace lowspot::terrain {

// A basin filled to its spill level: a single one, or what two become where they merge. A basin shallower
// than the least depth counts as part of the one that it merges with.
struct NestedBasin {
  int spot = 0;                       // id of the low spot
  Point at;                           // deepest point [m]
  double bottom = 0, spill_level = 0; // elevations [m]
  double area = 0;                    // when full [m2]
  double volume = 0;                  // when full [m3]
  Point spill_at;                     // [m]
  int parent = -1;                    // the basin it becomes part of, -1: it is the whole low spot
  int parts[2] = {-1, -1};            // the two that merged into it, -1: a single basin
  int spills_to = -1; // the single basin that takes its spill, -1: leaves the yard or nothing does
};

// All low spots of a ground with what sheds to them.
struct LowSpotMap {
  std::vector<LowSpot> spots;      // largest volume first
  std::vector<NestedBasin> basins; // parts stand before what they become; those of a low spot side by side
  std::vector<int>
      basin_of_cell; // one a cell: the single basin it sheds to, -1: leaves the yard, or no ground
  // The id of the low spot that a cell sheds to, 0: none, its water leaves the yard or it is no ground.
  int spot_of_cell(std::size_t cell) const {
    return basin_of_cell[cell] < 0 ? 0 : basins[basin_of_cell[cell]].spot;
  }
};

// Low spots shallower than least_depth [m] are left out, their water counted where it ends up.
LowSpotMap map_low_spots(const Ground& ground, double least_depth = 0.006);

// The low spots of find_low_spots(); spot_of_pool: the id of each pool's low spot, 0 where it is not named.
std::vector<LowSpot> list_low_spots(const Ground& ground, const DepressionTree& tree, const Pools& all,
                                    std::vector<int>& spot_of_pool);

} // namespace lowspot::terrain
