// The full hierarchy of depressions of a ground: which pit fills into which, at what level, with what volume.
#pragma once
#include <limits>
#include <vector>

#include <lowspot/relief/relief.hpp>

namespace lowspot::relief {

// A basin filled to its spill level. A leaf holds one pit; any other is what two basins become where they
// merge.
struct Depression {
  int bottom_cell = -1;                                         // cell of its lowest ground
  double bottom = 0;                                            // elevation [m]
  double spill_level = std::numeric_limits<double>::infinity(); // [m]; infinite: closed on all sides
  int spill_from = -1; // cell on the sill, or before the wall that is overtopped
  int spill_to = -1;   // cell beyond the sill, -1: over the limit of the yard
  double volume = 0;   // at the spill level [m3]; of a closed basin: not set
  int left = -1;       // the two basins that merged into this one, -1 in a leaf
  int right = -1;      // the other of the two
};

constexpr int pit_outside = -1;  // water leaves over an open edge
constexpr int pit_inactive = -2; // no ground here

// All basins of a ground.
struct DepressionTree {
  std::vector<Depression> depressions; // those that merge stand before what they become
  std::vector<int> finished; // basins that spill onto ground that drains, in order of rising spill level
  std::vector<int> closed;   // basins that cannot spill at any level
  std::vector<int> pit;      // one a cell: the leaf that its water reaches first, by steepest descent
};

// One sweep over the cells by rising elevation, joining them over faces (four neighbours) with union-find, as
// a minimum spanning tree is built (Kruskal 1956); the level of a face is the higher of its cells and of the
// wall on it. An open edge drains at its cell's own elevation. A level patch fills from where it meets lower
// ground, so that it is a pit of its own only where there is no way down. Time grows as n.
DepressionTree build_depression_tree(const Relief& relief);

} // namespace lowspot::relief
