// Loops over rows of cells in which water of several sources mixes, on flat arrays.
#pragma once
#include <initializer_list>

namespace lowspot::surface {

// Less water than this has no composition [m].
constexpr double no_water = 1e-200;

// A row of cells with what passed over its faces in some time, and how much the composition of each giver
// counts in the new one.
struct MixingRow {
  // m2 passed, to the east and the north; the face east of a cell is the next west one
  const double *west = nullptr, *south = nullptr, *north = nullptr;
  const double *depth = nullptr, *supply = nullptr; // m at the start, m/s
  double* keep = nullptr;                           // weight of the composition that the cell had
  double* from_west = nullptr;                      // weights of those that the cells around it gave
  double* from_east = nullptr;                      // likewise
  double* from_south = nullptr;                     // likewise
  double* from_north = nullptr;                     // likewise
  double* per_total = nullptr; // 1/m: one over all the water that mixes in the cell, 0: none
  int count = 0;               // of cells
};

// The weights of a stretch of a row from `from` on; what passed, depth and supply remain those of the whole.
inline MixingRow weights_of_part(MixingRow row, int from, int count) {
  for (double** weight : {&row.keep, &row.from_west, &row.from_east, &row.from_south, &row.from_north})
    *weight += from;
  row.count = count;
  return row;
}

// Finds the weights; factor [1/m] turns what passed into depth, dt [s] is the time that it took. With the
// part of the supply they sum to one, or `keep` alone is one where there is no water.
void weigh_row(const MixingRow& row, double dt, double factor);

// Whether some cell of a row passed on more than it held at the start.
bool has_flushed(const MixingRow& row, double factor);

// Means of the compositions by the weights; here, south and north hold those that the cells of the row and of
// the rows beside it had or gave, from the first cell of the row on.
void mix_row(const MixingRow& row, const double* here, const double* south, const double* north,
             double* mixed);

} // namespace lowspot::surface
