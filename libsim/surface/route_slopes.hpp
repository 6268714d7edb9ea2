// How each slot gives water away: the slopes of the water surface on its four sides, found from below upward.
#pragma once
#include <array>
#include <utility>
#include <vector>

#include <lowspot/surface/route_pools.hpp>

namespace lowspot::surface {

// A face between two cells of a section.
struct SectionFace {
  int upper = 0; // number of the cell with the higher bed, a place in RouteSections::nodes
  int lower = 0; // of the other
  int side = 0;  // of the upper, toward the lower
};

// Cells that share a level across the bed and are balanced as one: see route_sections.hpp.
struct RouteSection {
  int begin = 0, end = 0;    // places in RouteSections::order
  double level = 0;          // of the water [m above the datum]
  double turn_level = 0;     // it has its turn before ground that lies no higher [m above the datum]
  int turns = 0;             // it has had
  double place = 0;          // between the slots, where it had the first
  bool feeds_itself = false; // a cell hands water to another of it
  bool waits = true;         // whether what feeds it is still to be put before it
  int raised = 0;            // so often it was put before another after that
  double aslant = 1;         // what it passes on as a share of what it would by the fall from one to the next
};

// The sections of a step.
struct RouteSections {
  std::vector<int> deep;  // slots looked at
  Aligned<float> step_up; // by slot: to the lowest higher bed beside it, no wall between [m]
  Aligned<char> joined;   // by slot: 1 in a section
  // By slot: bits of the sides beyond which lies its section, lower, and of those along the flow over which a
  // cell of a section hands on nothing: against the flow, and down it where the bed rises.
  Aligned<char> level_sides;
  std::vector<int> section, number;   // by slot: the section, and the place in nodes; -1: none
  std::vector<int> nodes;             // slots of all sections, as they are found
  std::vector<int> group, next, size; // by number: of those joined one for all, a ring of them, how many
  std::vector<signed char> gives;     // by number: bits of the sides over which it hands on much of its water
  std::vector<float> along;           // by number: fall of the water along the flow there [m/m]
  std::vector<int> toward;            // by number: the side to which the section flows, -1: not known
  Field handed;                       // by number: what it has handed on in the step [m]
  std::vector<int> carrier;           // by number: of the cell that hands on what this one passes along
  std::vector<int> order;             // numbers, section by section, by falling bed
  Aligned<char> sides_before;         // likewise, of the step before
  std::vector<std::pair<int, char>> before; // slots and their level_sides in the step before
  std::vector<std::pair<int, int>> feeds;   // sections, the second given water by the first
  std::vector<int> moved;                   // sections, to put before them what feeds them
  std::vector<int> degree, way;             // by number: how many faces, and their numbers by exclusive or
  std::vector<SectionFace> faces;           // no more than it takes to join each section
  std::vector<RouteSection> sections;       // in no order

  // The number of a slot, which is taken in where it has none.
  int number_of(int slot);
};
// The bit in RouteSections::level_sides of a side beyond which lies the section, lower.
constexpr int level_side(int side) {
  return 1 << side;
}
// And of one along the flow over which nothing is handed on.
constexpr int held_side(int side) {
  return 16 << side;
}

// What the sweeps know of slots beside the water itself, in lists with room for a few more at the end.
// Outflow [m/s] is conveyance * h^(5/3) * (own * h + drop)^(1/2), the root that of the fall of the water
// surface to the water below, which follows the level here by the share 1 - own. Where the ground is so steep
// that the level here does not matter, own is 0 and drop 1.
struct RouteSlopes {
  // Of the bed, until the first sweep.
  explicit RouteSlopes(const RouteGraph& graph);

  // The four sides: west, east, south, north. No way down: to the slot itself, at a slope of no_way.
  std::array<Aligned<int>, 4> to;        // slot, the number of slots for what leaves the yard
  std::vector<std::array<int, 4>> above; // by slot: the one on each side that hands water to it, -1: none
  std::array<Aligned<float>, 4> slope;   // of the water surface, smoothed over steps; of the ground at edges
  std::array<Aligned<float>, 4> bed_slope; // to the slot there
  Aligned<float> conveyance, own;          // conveyance 0: no way down
  Aligned<float> drop;                     // m
  // Two numbers of single precision a slot, see together(): depth [m], and change of the level for a change
  // of the logarithm of all discharge [m]. Of the last sweep uphill.
  Aligned<std::int64_t> shown;
  // Depth of the last profile of a slot [m].
  double profile(int slot) const {
    return static_cast<double>(
        __builtin_bit_cast(float, static_cast<std::int32_t>(shown[slot] & 0xffffffff)));
  }
  Aligned<float> root;               // h^(1/3) at the last step [m^(1/3)]
  Aligned<float> outflow;            // m/s at the last step
  Aligned<float> through;            // m/s, outflow smoothed over steps
  Aligned<float> inverse_n, shallow; // of water no deeper than `shallow` [m]
  Aligned<float> log_deep;           // logarithm of 1 / n in deep water over that in shallow
  Aligned<double> bed, storage;      // as in the graph
  // Packs: slots that follow one another, no more than `lanes`, none of which hands water to another.
  std::vector<int> pack;            // first slot, one more at the end
  std::vector<int> all_packs;       // 0, 1, 2, ...
  std::vector<int> pack_of;         // by slot
  std::vector<RoutedPoolTurn> turn; // of pools and sections, by falling level; anew in every step
  RouteSections sections;           // of the step at hand
};
// In place of a slope: there is no way down on this side.
constexpr float no_way = -1;

// Takes the slope of the water surface for each way down, from below upward, so that water backs up from
// pools and over flat ground: the level of a cell is that at which it would pass on its present outflow at
// normal depth (the standard step method), as far as it settles within dt [s].
void sweep_uphill(double dt, const RouteGraph& graph, const RoutedPools& pools, RoutedWater& water,
                  RouteSlopes& slopes);

} // namespace lowspot::surface
