// One step of a level pool among routed water: what arrives, what its cells are given and what they take,
// what goes over its rim.
#pragma once
#include <algorithm>
#include <array>
#include <functional>
#include <utility>
#include <vector>

#include <lowspot/surface/route_slopes.hpp>

namespace lowspot::surface {

// Where water goes on its way: to a cell, a pool or out of the yard. All that crosses is kept by the side of
// the slot it leaves, in single precision; what crosses the faces of a few cells is also counted exactly.
struct RoutedFaces {
  // All nothing, of the right sizes; counts cells with an open face.
  RoutedFaces(const RouteGraph& graph, std::size_t open_faces);

  // From now on what crosses the faces of this slot is counted.
  void count(const RouteGraph& graph, int slot);
  // Nothing has crossed.
  void clear();
  // Hands `depth` [m over a cell] on from a slot over a face.
  void pass(int from, const RouteLink& link, double depth, RoutedPools& pools, RoutedWater& water) {
    if (counted[from]) (link.side < 2 ? x : y)[link.face] += area * (link.side & 1 ? depth : -depth);
    if (link.to >= 0) return pass(from, link.side, link.to, depth, pools, water);
    passed[link.side][from] += static_cast<float>(depth);
    left[link.open_face] += area * depth;
  }
  // The same from a slot that is not counted to another.
  void pass(int from, int side, int to, double depth, RoutedPools& pools, RoutedWater& water) {
    passed[side][from] += static_cast<float>(depth);
    if (const int d = water.pool_of[to]; d >= 0) {
      pools.pool(d).inflow += depth;
      if (again) fed.push_back(d);
    } else {
      water.inflow[to] += depth;
      if (to < turn) call_late(to);
    }
  }
  // Takes what left over each open face from what crossed it, sheet flow and pools together.
  void count_left();
  // A slot that was given more after its turn.
  void call_late(int slot) {
    called = true;
    if (std::exchange(waiting[slot], char{1})) return;
    const int k = sections ? sections->section[slot] : -1;
    late.emplace_back(k >= 0 ? sections->sections[k].place : slot, slot);
    std::push_heap(late.begin(), late.end(), std::greater<>());
  }

  double area; // of a cell [m2]
  // m over a cell that left each slot to the west, east, south and north.
  std::array<Aligned<float>, 4> passed;
  Aligned<char> counted;                 // by slot
  Aligned<char> waiting;                 // by slot: 1 in `late`
  Field x, y;                            // m3 over counted faces, positive to the east and the north
  std::vector<int> counted_x, counted_y; // those
  Field left;                            // m3, out of each open face
  int turn = 0;                          // slots before this one have had their turn in the sweep
  // Heap, the first on top: slots that were given more after their turn, by their place or that of their
  // section.
  std::vector<std::pair<double, int>> late;
  const RouteSections* sections = nullptr; // of the step, if there are any
  bool called = false;                     // some were
  bool again = false;                      // in sweep_again(): all have had their turn
  std::vector<int> fed;                    // pools that were given water there
  bool down_only = false;                  // there, and late water goes to pools with no higher way out
  std::vector<RouteLink> open;             // all there are
};

// Advances a pool by dt [s]. Sources at constant rates and the fall of the level past cells that dry on the
// way are exact; what spills obeys Manning's law over the rim with the head at the end of the step.
void step_pool(int depression, double dt, const RouteGraph& graph, RoutedPools& pools, RoutedWater& water,
               RoutedFaces& faces);

// Adds to a pool what has come to it since its turn; a dry bottom takes up what it can hold.
void take_late(int depression, const RouteGraph& graph, RoutedPools& pools, RoutedWater& water);

// Whether late water has lifted a pool so much that it should go on within the step.
bool has_risen(const RoutedPool& pool);

// The same step again for a pool that was given more after its turn: what spills beyond what has spilled
// already is passed on. Whether that was much.
bool spill_again(int depression, double dt, const RouteGraph& graph, RoutedPools& pools, RoutedWater& water,
                 RoutedFaces& faces);

} // namespace lowspot::surface
