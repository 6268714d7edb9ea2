// Level pools in the depressions of a ground: which of the hierarchy stand now, how far each reaches, where
// it spills. They meet and part as their water rises and falls; volumes are kept to round-off.
#pragma once
#include <limits>
#include <vector>

#include <lowspot/surface/memory.hpp>
#include <lowspot/surface/route_graph.hpp>
#include <lowspot/surface/route_rim.hpp>

namespace lowspot::surface {

// The water of a routed surface, one entry a slot and room at the end, so that several can be worked on at
// once. What leaves the yard goes to the first there.
constexpr int room_at_end = 8;
// Water on the ground, slot by slot.
struct RoutedWater {
  // Dry, of the right sizes.
  explicit RoutedWater(const RouteGraph& graph);

  Aligned<double> depth;        // m, what depressions hold included; of cells in a pool see settle_depths()
  Aligned<double> inflow;       // m, arrived and not yet dealt with; of pools see RoutedPool
  Aligned<double> level;        // m above the datum, of moving water; of cells in a pool see level_at()
  Aligned<double> supply, sink; // m/s
  Aligned<double> taken;        // m
  Aligned<double> thirst;       // m that the sink could have taken beyond what there was in this step
  Aligned<char> done;           // 1: the sources of this step are booked
  Aligned<int> pool_of;         // depression whose pool covers the slot, -1: none
};

struct RoutedPoolTurn { // of a pool in the order of levels
  double level = 0;     // m above the datum
  int depression = -1;  // index in the tree; -1: none
  int section = -1;     // in its place: one of RouteSections::sections
};

// The pool of one depression.
struct RoutedPool {
  bool active = false;    // it stands: it holds the water of its cells
  double level = 0;       // m above the datum
  double volume = 0;      // m of depth summed over the cells, above their beds
  double inflow = 0;      // m summed, arrived and not yet dealt with, beside RoutedWater::inflow of its cells
  double last_inflow = 0; // m summed, of the last step
  double spilled_to = 0;  // level at the end of the last step that spilled [m above the datum]
  double outflow = 0;     // m summed, of the last step
  double turn_level = 0;  // at the end of its own turn, before what came late [m above the datum]
  double turn = 0;        // it has its turn before ground that lies no higher [m above the datum]
  int turn_rank = 0;      // among pools whose turn is at one level
  int members = 0;        // cells below its level: the first of `cells`
  // Places in `cells`, below `members`, of cells that a stream crosses on its way to the pool: see
  // RoutedPools::settle(). They keep their own water.
  std::vector<int> streams;
  double stream_beds = 0;           // sum of the beds of those [m]
  int bottom = 0;                   // cells at the very bottom, which stay members when dry
  std::vector<int> cells;           // slots that it can reach, its banks too, by rising bed
  Field beds_below;                 // sum of the beds of the first k cells, k = 0 to all [m]
  std::vector<RimFace> rim;         // cell by cell, by rising lowest sill
  std::vector<RimBlock> rim_blocks; // the same, as it spills
  // Cells that share the level, and the sum of their beds [m].
  int level_cells() const { return members - static_cast<int>(streams.size()); }
  double level_beds() const { return beds_below[members] - stream_beds; }
};

// All pools of a ground.
class RoutedPools {
public:
  // Keeps a reference to the graph, which must outlive it, and starts a pool in each single depression.
  RoutedPools(const RouteGraph& graph, RoutedWater& water);

  std::vector<int> active; // depressions whose pools stand, in no order
  long spread = 0;         // counts cells taken in, pools joined and parted
  RoutedPool& pool(int depression) { return pools_[depression]; }
  const RoutedPool& pool(int depression) const { return pools_[depression]; }
  double spill_level(int depression) const { return graph_->tree.depressions[depression].spill_level; }
  // The largest that holds it and whose pools all stand above what parts them there; itself, if none.
  int stands_in(int depression) const;
  // Whether the water of a slot drains to the bottom of one of its pits.
  bool within(int slot, int depression) const;
  // Sill over which its water leaves for lower water, those beyond which it stands as high left out [m above
  // the datum].
  double way_out(int depression) const;
  // Elevation of the water in a cell, by its place in the order [m].
  double level_at(int slot, const RoutedWater& water) const;

  // Finds the level that holds the pool's volume, taking in cells it reaches and letting go of others. Cells
  // where moving water stands above the level stay apart until it hardly does. lasting: no higher level
  // counts for that, before what is too much has left the pool [m above the datum].
  void settle(int depression, RoutedWater& water, double lasting = std::numeric_limits<double>::infinity());
  // Joins pools that have risen over what parts them and parts those that have fallen below it.
  void rearrange(RoutedWater& water);
  // Brings RoutedWater::depth up to date in a pool.
  void settle_depths(int depression, RoutedWater& water) const;

private:
  void start(int depression, RoutedWater& water);
  void leave(int slot, bool wet, RoutedWater& water);
  void join(int parent, RoutedWater& water);
  void part(int depression, RoutedWater& water);
  // Cells that the pool of a depression can reach: those that drain to it, up to a little above its brim, by
  // rising bed.
  std::vector<int> reach(int depression) const;
  void find_rim(int depression);
  int beside(int depression) const; // the other half of the one that both lie in
  bool all_stand(int depression, double level) const;
  double exchange(int depression, const RoutedWater& water) const;
  bool strait_is_shallow(int depression, double level, double deep, const RoutedWater& water) const;
  const RouteGraph* graph_;
  std::vector<RoutedPool> pools_; // one a depression
};

} // namespace lowspot::surface
