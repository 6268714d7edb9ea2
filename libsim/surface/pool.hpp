// One level pool: how its surface falls or rises while its cells are fed and drained.
#pragma once
#include <vector>

namespace lowspot::surface {

// A cell of a pool.
struct PoolCell {
  int cell = 0;                // index in the grid
  double bed = 0;              // m, depression storage included
  double storage = 0;          // m of depth that cannot flow
  double depth = 0;            // m, storage included
  double supply = 0, sink = 0; // m/s
  double taken = 0;            // m, result
};

// The level at which cells of equal area hold a volume, given as a sum of depths [m]. Beds in ascending
// order.
double level_holding(const std::vector<PoolCell>& ascending, double volume);

// Advances a pool by dt [s]: each sink draws on the whole pool as long as its cell is under water, then on
// what its own depressions hold; supplies feed the pool. Exact for constant rates while the pool stays in one
// piece. Sets depth and taken; sorts the cells by bed. Returns the level at the end [m].
double advance_pool(std::vector<PoolCell>& cells, double dt);

// Adds a cell that the pool has reached, whose own sources for this step are already booked. False, and
// nothing changed, when what the pool has is not enough to fill the depressions of the cell.
bool extend_pool(std::vector<PoolCell>& ascending, const PoolCell& cell, double& level);

} // namespace lowspot::surface
