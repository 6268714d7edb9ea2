// The account of each cell's soil column since the start: what a bed's water budget is made of.
#pragma once
#include <lowspot/base/field.hpp>

namespace lowspot::yard {

// m of water over the cell. Content of a column now = at the start + infiltrated - returned + lateral -
// to_drain - drunk - leaked.
struct CellBooks {
  Field rain; // reached the ground under open sky (leaves and mulch have had theirs): not a term of the sum
  Field infiltrated; // soaked in, rain and run-on alike
  Field returned;    // came out of the full soil onto the ground
  Field lateral;     // net from the ground beside it, seeps and open edges, along the tight layer
  Field to_drain;    // net through trench walls
  Field drunk;       // by plants and the air
  Field leaked;      // through the tight layer

  // All nothing.
  explicit CellBooks(std::size_t cells) {
    for (Field* field : {&rain, &infiltrated, &returned, &lateral, &to_drain, &drunk, &leaked})
      field->assign(cells, 0.0);
  }
};

} // namespace lowspot::yard
