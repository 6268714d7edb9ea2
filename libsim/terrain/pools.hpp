// The outermost basins of a ground, each with where it spills.
#pragma once
#include <vector>

#include <lowspot/terrain/depression_tree.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::terrain {

// An outermost basin together with where it spills.
struct Pool {
  int depression;        // index in the tree
  double level;          // when full [m]
  int from, to;          // cells; to = -1: over the limit of the yard, or nowhere
  bool reported = false; // deep enough to be named
  bool closed = false;   // nothing leaves it at any level
};
// The pools of a ground.
struct Pools {
  std::vector<Pool> pools;  // each once
  std::vector<int> of_leaf; // one a depression: the pool that holds it, -1 for none
};

// Pools shallower than least_depth [m] are left out.
Pools outermost_pools(const Ground& ground, const DepressionTree& tree, double least_depth);

// The pit in which the water of a pit ends up, through pools that are not named; -1: it leaves the yard.
int pit_of_reported(const DepressionTree& tree, const Pools& all, int pit);

// Cells under water when what lies round `start` is full to `level` [m], and their volume [m3]. `seen` is
// marked.
void flood(const Ground& ground, int start, double level, Mask& seen, std::vector<int>& cells,
           double& volume);

} // namespace lowspot::terrain
