// The inner loops: one row of faces or cells at a time, on flat arrays.
#pragma once

namespace lowspot::surface {

// What a hydraulic step needs to know besides the arrays.
struct StepNumbers {
  double dt = 0;               // s
  double inverse_cell = 0;     // 1/m
  double celerity_cap = 0;     // m2/s2: celerity squared
  double floor_factor = 0;     // squared ratio of the least celerity to the speed of the water
  double neighbour_weight = 0; // see Options
};

// A row of faces between the cells a (west or south) and b (east or north). All pointers to the first face;
// up to eight numbers beyond the last may be read.
struct FaceRow {
  const double *level_a = nullptr, *level_b = nullptr; // m: mobile water surface, the bed where there is none
  const double* sill = nullptr;                        // m: below it nothing passes
  // m of mobile water in a and b, and in the cells behind them
  const double *h_a = nullptr, *h_b = nullptr, *h_behind_a = nullptr, *h_behind_b = nullptr;
  const double *roughness_a = nullptr, *roughness_b = nullptr; // Manning n squared
  const double *q = nullptr, *q_before = nullptr,
               *q_after = nullptr; // m2/s: this face, its neighbours along the flow
  const double *t1 = nullptr, *t2 = nullptr, *t3 = nullptr, *t4 = nullptr; // the four faces across
  double* q_new = nullptr;
  double* speed_squared = nullptr; // m2/s2, scratch
  int count = 0;
};

// Momentum without advective acceleration (Bates et al. 2010; de Almeida et al. 2012): discharge after dt.
void face_row(const FaceRow& row, const StepNumbers& numbers);

// A row of cells. West and east faces are q_x[i] and q_x[i + 1].
struct CellRow {
  const double *q_x = nullptr, *q_south = nullptr, *q_north = nullptr; // m2/s
  const double *storage = nullptr, *bed = nullptr; // m: depth that cannot flow; bed with that depth on it
  const double *supply = nullptr, *sink = nullptr; // m/s
  double *depth = nullptr, *level = nullptr, *mobile = nullptr, *taken = nullptr; // m
  double* share = nullptr; // of what flows out that the cell can really give, 1 as a rule
  int count = 0;
};

// True when some cell of a row would lose more than its mobile water.
bool overdrawn(const CellRow& row, const StepNumbers& numbers);

// Shares of the outflows that the mobile water of each cell can feed.
void limit_row(const CellRow& row, const StepNumbers& numbers);

// Scales discharges by the share of the cell they come from; positive flow comes from cell a.
void scale_row(double* q, const double* share_a, const double* share_b, int count);

// Volume balance of a row: flow, then supply, then what the sinks take. Returns the deepest mobile water [m].
double update_row(const CellRow& row, const StepNumbers& numbers);

// Largest of non-negative numbers, 0 for none.
double largest(const double* values, int count);

} // namespace lowspot::surface
