// One hydraulic step as a sweep over the rows from south to north, row by row, and what a row waits for.
#pragma once
#include <lowspot/surface/step.hpp>

namespace lowspot::surface {

// The roughness of vegetation in a row at its present depth, in columns [begin, end).
// deepest [m]: no less than the mobile water of these cells. Returns whether any may be bent.
bool bend_vegetation(Workspace& work, int row, int begin, int end, float deepest);

// From which discharges a step goes to which.
struct Pass {
  const Aligned<float>*q_x = nullptr, *q_y = nullptr;     // m2/s, before
  Aligned<float>*q_x_next = nullptr, *q_y_next = nullptr; // m2/s, after
};

// The most of a step.
struct alignas(64) Most { // a cache line each, since threads write them side by side
  Celerities celerities;
  double deepest = 0;        // m of mobile water
  long wet = 0, rushing = 0; // faces that carry water, and that quick steps find in full
};

// A step. Those of several threads share all but `most`.
struct Sweep {
  const Grid& grid;             // of the ground
  const StepNumbers& numbers;   // of this step
  const FaceNumbers& x_numbers; // the same for faces along x
  const FaceNumbers& y_numbers; // and along y
  const Tiles& tiles;           // which parts move
  Workspace& work;              // changed by the step
  const Water& water;           // changed by the step
  Pass pass = {};               // discharges before and after
  int age = 0;                  // steps since a full one, 0: is one
  bool keeps = false;           // quick steps follow
  Undo* undo = nullptr;         // where wanted: keeps the water of moving tiles before it changes
  Undo* undo_still = nullptr;   // the same for still tiles
  Most* most = nullptr;         // where the most of this step is noted
  bool first = false;           // of a group
  double still_time = 0;        // s: since the water of still tiles changed last, 0: not in this step
};

// Each of these for a row j of the grid, in this order, and
// 1. new discharges on the west and south faces of the row: from the water before the step in rows j - 2 .. j
// + 1;
void find_discharges(const Sweep& sweep, int j);
// 2. open faces, and shares of the outflow that the cells can feed: after 1. of rows j and j + 1;
void find_shares(const Sweep& sweep, int j);
// 3. west and north faces by these shares (the south ones of row 0 as well): after 2. of rows j and j + 1;
void limit_discharges(const Sweep& sweep, int j);
// 4. books and volumes, and the roughness that goes with them: after 3. of rows j - 1 and j, and once rows j
// - 1 .. j + 2 need the old water no more.
void balance_volumes(const Sweep& sweep, int j);

// Row j of faces and what then can be done behind it, for j = 0 .. ny + 1 in turn. The next step may follow
// three rows behind, since its row j - 3 needs what this one leaves in rows up to j - 2.
//
// A sweep may also be made in parts. One that begins with row `begin` leaves out what needs the rows before,
// the volumes of `begin` included. One that stops at any row, to be taken up there later, leaves the volumes
// from two rows before on as they are. Between two parts the gap is closed by going on where the southern one
// stopped up to row end + 2, with `end` the row where the northern one began.
constexpr int rows_behind = 3;
void advance_row(const Sweep& sweep, int j, int begin = 0);
void close_row(const Sweep& sweep, int j, int end);

} // namespace lowspot::surface
