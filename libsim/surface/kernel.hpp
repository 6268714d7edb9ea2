// The inner loops over rows of cells, on flat arrays, and what a step needs to know. What holds water is in
// double precision.
#pragma once

namespace lowspot::surface {

// What a hydraulic step needs to know besides the arrays.
struct StepNumbers {
  double dt = 0;           // s
  double inverse_cell = 0; // 1/m
  double celerity_cap = 0; // m2/s2: celerity squared
  double floor_factor = 0; // squared ratio of the least celerity to the speed of the water
  double foresight = 0;    // see Options
  double dt_before = 0;    // s: of the step that the changes of levels belong to
  int full_every = 1;      // of some steps made together: see Options
  double stable_x = 0;     // m2/s2: celerity squared that faces along x may have in this step
  double stable_y = 0;     // and along y
};

// A row of cells. West and east faces are q_x[i] and q_x[i + 1].
struct CellRow {
  const float *q_x = nullptr, *q_south = nullptr, *q_north = nullptr; // m2/s
  const double *storage = nullptr, *bed = nullptr; // m: depth that cannot flow; bed with that depth on it
  const double *supply = nullptr, *sink = nullptr; // m/s
  double *depth = nullptr, *level = nullptr, *taken = nullptr; // m
  float *mobile = nullptr, *change = nullptr;                  // m; change: of the level in the step
  float* share = nullptr; // of what flows out that the cell can really give, 1 as a rule
  double *depth_before = nullptr, *taken_before = nullptr; // m: where these go as they were, or none
  float* change_before = nullptr;                          // likewise
  int count = 0;                                           // of cells
};

// True when some cell of a row would lose more than its mobile water.
bool overdrawn(const CellRow& row, const StepNumbers& numbers);

// Shares of the outflows that the mobile water of each cell can feed.
void limit_row(const CellRow& row, const StepNumbers& numbers);

// Scales discharges by the share of the cell they come from; positive flow comes from cell a.
void scale_row(float* q, const float* share_a, const float* share_b, int count);

// Sums [m2] of what crosses a row of faces: those before a step of dt [s] and what it adds. They may be at
// the same place.
void add_row(const double* before, const float* q, double dt, double* sum, int count);

// Rates [m/s] where cells are active, 0 elsewhere. Raises `most` to the largest. False when one is negative
// or no number.
bool take_rates(const double* rates, const unsigned char* active, double* taken, int count, double& most);

// What some cells of a row have, now or within some time.
struct RowContent {
  bool any = false;    // water
  bool mobile = false; // so much of it that it may flow
};
// Of `count` cells within `horizon` seconds; the arrays are those of CellRow.
RowContent content_of(const double* depth, const double* storage, const double* supply, int count,
                      double horizon);

// False when one of them is infinite or no number.

bool all_finite(const double* values, int count);

// Manning's n squared of a row of cells with vegetation, at their present depth. See bent_roughness().
struct RoughnessRow {
  // m of water; n squared in thin water; logarithm of deep to thin; 1/m, as in bent_roughness()
  const float *mobile = nullptr, *thin = nullptr, *log_ratio = nullptr, *bend = nullptr;
  float* n_squared = nullptr; // s2/m^(2/3): where it goes
  float* softening = nullptr; // 1/m: where the share of n squared goes that a metre more of depth would take
  int count = 0;              // of cells
};
// Of a whole row; the law is that of friction.hpp.
void roughness_row(const RoughnessRow& row);

// Volume balance of a row: flow, then supply, then what the sinks take. Returns the deepest mobile water [m].
float update_row(const CellRow& row, const StepNumbers& numbers);

} // namespace lowspot::surface
