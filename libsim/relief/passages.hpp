// Which faces of a ground water can pass at the level of the higher cell, and which only over a wall.
#pragma once
#include <limits>
#include <vector>

#include <lowspot/relief/relief.hpp>

namespace lowspot::relief {

// The bit of Passages::blocked that marks an outlet.
constexpr std::uint8_t outlet_bit = 16;

// A wall that is overtopped at `level` [m], between two cells or (b = -1) at an open edge.
struct Overtopping {
  double level; // elevation of its crest [m]
  int a, b;     // cells on either side
};

// Faces by the way that water can take over them.
struct Passages {
  // One a cell: bit 1 << side is set where the face leads to no ground or has a wall higher than both its
  // cells; outlet_bit where water leaves over an open face at the level of the cell.
  std::vector<std::uint8_t> blocked;
  std::vector<Overtopping> walls; // by rising level
};

// Of any relief, one closed on all sides included. Throws std::invalid_argument where its arrays do not fit
// its grid, its ground is no number or an open face lies on no active cell.
Passages find_passages(const Relief& relief);

} // namespace lowspot::relief
