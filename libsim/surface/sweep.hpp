// One hydraulic step as a sweep over the rows from south to north, row by row, and what a row waits for.
#pragma once
#include <lowspot/surface/step.hpp>

namespace lowspot::surface {

// From which discharges a step goes to which.
struct Pass {
  const Aligned<float>*q_x = nullptr, *q_y = nullptr;
  Aligned<float>*q_x_next = nullptr, *q_y_next = nullptr;
};

// The most of a step.
struct alignas(64) Most {      // a cache line each, since threads write them side by side
  double celerity_squared = 0; // m2/s2
  double deepest = 0;          // m of mobile water
};

// A step. Those of several threads share all but `most`.
struct Sweep {
  const Grid& grid;
  const StepNumbers& numbers;
  const Tiles& tiles;
  Workspace& work;
  const Water& water;
  Pass pass;
  Undo* undo = nullptr; // where wanted: keeps the water of each row before it changes
  Most* most = nullptr;
};

// Each of these for a row j of the grid, in this order, and
// 1. new discharges on the west and south faces of the row: from the water before the step in rows j - 2 .. j
// + 1;
void find_discharges(const Sweep& sweep, int j);
// 2. open faces, and shares of the outflow that the cells can feed: after 1. of rows j and j + 1;
void find_shares(const Sweep& sweep, int j);
// 3. west and north faces by these shares (the south ones of row 0 as well): after 2. of rows j and j + 1;
void limit_discharges(const Sweep& sweep, int j);
// 4. books and volumes: after 3. of rows j - 1 and j, and once rows j - 1 .. j + 2 need the old water no
// more.
void balance_volumes(const Sweep& sweep, int j);

// Row j of faces and what then can be done behind it, for j = 0 .. ny + 1 in turn. The next step may follow
// three rows behind, since its row j - 3 needs what this one leaves in rows up to j - 2.
constexpr int rows_behind = 3;
void advance_row(const Sweep& sweep, int j);

// The rows [begin, end) of a sweep whose other rows are done at the same time by others. The volumes of a
// band are those of rows begin + 1 .. end, since row `end` is needed to find the discharges north of end - 1.
// At least three rows. has_begun() is called once the band to the south may change its last rows; wait() must
// return after the band to the north has called it.
template <class HasBegun, class Wait>
void advance_band(const Sweep& sweep, int begin, int end, const HasBegun& has_begun, const Wait& wait) {
  const int last = sweep.grid.ny - 1, top = end < last ? end : last;
  for (int j = begin; j <= top + 2; ++j) {
    if (j == end && end <= last) wait();
    if (j < end) find_discharges(sweep, j);
    if (j > begin && j <= end) find_shares(sweep, j - 1);
    if (j >= begin + 2 && j < end + 2) limit_discharges(sweep, j - 2);
    if (j == begin + 2) has_begun();
    if (j > begin + 2 || (begin == 0 && j == 2)) balance_volumes(sweep, j - 2);
  }
}

} // namespace lowspot::surface
