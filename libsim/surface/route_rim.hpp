// What goes over the rim of a level pool: Manning's law over each face, and on the shallow way there.
#pragma once
#include <array>
#include <span>
#include <vector>

#include <lowspot/surface/memory.hpp>
#include <lowspot/surface/route_graph.hpp>

namespace lowspot::surface {

// Cells of a rim that are worked on at once.
constexpr int rim_lanes = 8;
// A number for each of them.
using RimNumbers = std::array<float, rim_lanes>;

// Eight cells of a pool with faces over which it spills, by rising lowest sill. Heights are counted from
// that.
struct RimBlock {
  std::array<int, rim_lanes> from = {};                // slot, -1: no cell
  std::array<double, rim_lanes> sill = {};             // the lowest of the cell [m above the datum]
  std::array<std::array<int, rim_lanes>, 4> face = {}; // by side, in the list given; -1: none
  std::array<RimNumbers, 4> above = {};                // sill by side [m], very high: no face
  std::array<RimNumbers, 4> slope = {};                // fixed by the ground [m/m]; 0: by the water surface
  std::array<RimNumbers, 4> drop = {};                 // to the water beyond [m]
  std::array<RimNumbers, 4> wall = {};                 // of the crest above the higher bed [m]; 0: no wall
  RimNumbers inverse_n = {}, shallow = {}, log_deep = {}; // Manning's n: see RouteSlopes
  RimNumbers lost = {};                // share of the head that the way there took when last looked at
  std::array<RimNumbers, 4> flow = {}; // over each face [m/s]
  std::vector<RimNumbers> way;         // how deep the way there lies [m], the cell itself first
};

// The rim of a pool, eight cells a block. faces: cell by cell, cells by rising lowest sill.
std::vector<RimBlock> rim_blocks(const RouteGraph& graph, std::span<const RimFace> faces);

// What spills over a rim.
struct Spill {
  double flow = 0;        // m/s summed
  double slope = 0;       // about how it changes with the level of the pool [1/s]
  std::size_t blocks = 0; // of the rim that lie lower than the pool: the others keep what they last had
};

// Spill over all cells of a rim at a level of the pool [m above the datum], to RimBlock::flow too. What goes
// over the faces of a cell comes to it in one stream, up the steepest way from the bottom, and that way takes
// a part of the head: over each face of it the square of the discharge is depth^(10/3) times the fall, by
// Manning's law.
Spill spill_over(const RouteGraph& graph, std::vector<RimBlock>& rim, double level);

// Where a stream one cell wide comes down into a level pool: how high it stands in a cell on its margin [m
// above the datum]. Along the steepest way to deep water, from below upward, over each face the square of the
// discharge is depth^(10/3) times the fall, by Manning's law (the standard step method: Chow 1959). level: of
// the pool; discharge: per width [m2/s].
double level_on_margin(const RouteGraph& graph, int slot, double level, double discharge);

} // namespace lowspot::surface
