// The ground as a graph that runs downhill: cells in the order in which water passes them, and the faces over
// which each hands it on.
#pragma once
#include <vector>

#include <lowspot/relief/depression_tree.hpp>
#include <lowspot/surface/flow.hpp>

namespace lowspot::surface {

// A face over which a cell hands water on.
struct RouteLink {
  int to = -1;        // slot of the lower cell; -1: over an open face
  int open_face = -1; // index in Terrain::open_faces
  int face = 0;       // of the grid, normal to x for sides 0 and 1
  int side = 0;       // 0 west, 1 east, 2 south, 3 north
  double slope = 0;   // over an open face: fixed by the ground [m/m]; 0: by the water surface
  double wall = 0;    // of an open face: how high a crest there stands above the ground [m]
};

// A face over which a pool spills once it stands above `sill`.
struct RimFace {
  RouteLink link;  // the face, as for a cell that hands its water on
  int from = 0;    // slot inside the pool
  double sill = 0; // m above the datum
};

// The way on which most water comes through a cell and leaves it.
struct Stream {
  signed char axis = -1; // 0: rather along x, 2: along y, -1: neither
  bool through = false;  // it does so both above and below
  float aslant = 1;      // cosine of its angle to the axis, to the power 3/2
};

// Active cells by falling bed; on level patches those farther from the way down come first. A place in that
// order is a slot.
struct RouteGraph {
  // Orders the cells and finds the depressions of this ground.
  explicit RouteGraph(const Terrain& terrain);

  Grid grid;                             // where the cells lie
  double datum = 0;                      // elevation from which levels are counted [m]
  std::vector<int> cell;                 // of a slot
  std::vector<int> slot;                 // of a cell, -1 where there is no ground
  Field bed;                             // m above the datum, depression storage included
  Field storage;                         // m that cannot flow
  Field roughness_thin, log_ratio;       // see roughness_at()
  Field inverse_n_thin;                  // of Manning's n where the water is shallow
  Field vegetation;                      // m
  std::vector<int> first_link;           // one more at the end
  std::vector<RouteLink> links;          // down free faces; none from the bottom of a pit
  std::vector<RimFace> other_faces;      // up, or over walls: only a pool gets across
  std::vector<int> first_other;          // one more at the end
  std::vector<int> descent;              // slot of the lowest cell that a slot hands water to, -1: none
  std::vector<int> ascent;               // slot by whose descent most cells drain to this one, -1: none do
  std::vector<Stream> stream;            // by slot
  std::vector<int> pit;                  // of a slot: number of its leaf by leaf_order, -1: leaves the yard
  std::vector<int> home;                 // smallest basin that holds the slot when full, -1: none
  relief::DepressionTree tree;           // levels above the datum
  std::vector<int> parent;               // of a depression, -1: none
  std::vector<int> leaf_begin, leaf_end; // leaves of a depression by number
  std::vector<int> leaf_of;              // depression of a leaf by number
  std::vector<int> drains;               // slots that drain to each leaf, leaf by leaf, by rising bed
  std::vector<int> first_drain;          // of each leaf in `drains`, one more at the end
};

// Conveyance of water of a depth h [m] over a slot, h^(5/3) / n [m2/s].
double conveyance(const RouteGraph& graph, int slot, double h);

} // namespace lowspot::surface
