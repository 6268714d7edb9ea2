// The inner loops: one row of faces or cells at a time, on flat arrays. What holds water is in double
// precision; what moves it is worked out in single precision, from differences formed in double.
#pragma once

namespace lowspot::surface {

// What a hydraulic step needs to know besides the arrays.
struct StepNumbers {
  double dt = 0;              // s
  double inverse_cell = 0;    // 1/m
  double celerity_cap = 0;    // m2/s2: celerity squared
  double floor_factor = 0;    // squared ratio of the least celerity to the speed of the water
  double foresight = 0;       // see Options
  double first_foresight = 0; // of the first of some steps, where those before were longer
};

// A row of faces between the cells a (west or south) and b (east or north). All pointers to the first face.
// Whole vectors are read and written: up to Frame::vector - 1 numbers after the last face.
struct FaceRow {
  const double *level_a = nullptr, *level_b = nullptr; // m: mobile water surface, the bed where there is none
  const float *change_a = nullptr, *change_b = nullptr; // m: of these levels in the step before
  // m: how far the sill lies above the beds of a and b, >= 0; below it nothing passes
  const float *rise_a = nullptr, *rise_b = nullptr;
  // m of mobile water in a and b, and in the cells behind them
  const float *h_a = nullptr, *h_b = nullptr, *h_behind_a = nullptr, *h_behind_b = nullptr;
  const float *roughness_a = nullptr, *roughness_b = nullptr; // Manning n squared
  const float* q = nullptr;                                   // m2/s
  // The four faces across: two on either side of the flow, first those on the one side, then on the other.
  const float *t1 = nullptr, *t2 = nullptr, *t3 = nullptr, *t4 = nullptr;
  float* q_new = nullptr;
  int count = 0;
};

// Momentum without advective acceleration (Bates et al. 2010; de Almeida et al. 2012): discharge after dt.
// Returns the largest celerity squared [m2/s2].
float face_row(const FaceRow& row, const StepNumbers& numbers);

// A row of cells. West and east faces are q_x[i] and q_x[i + 1].
struct CellRow {
  const float *q_x = nullptr, *q_south = nullptr, *q_north = nullptr; // m2/s
  const double *storage = nullptr, *bed = nullptr; // m: depth that cannot flow; bed with that depth on it
  const double *supply = nullptr, *sink = nullptr; // m/s
  double *depth = nullptr, *level = nullptr, *taken = nullptr; // m
  float *mobile = nullptr, *change = nullptr;                  // m; change: of the level in the step
  float* share = nullptr; // of what flows out that the cell can really give, 1 as a rule
  int count = 0;
};

// True when some cell of a row would lose more than its mobile water.
bool overdrawn(const CellRow& row, const StepNumbers& numbers);

// Shares of the outflows that the mobile water of each cell can feed.
void limit_row(const CellRow& row, const StepNumbers& numbers);

// Scales discharges by the share of the cell they come from; positive flow comes from cell a.
void scale_row(float* q, const float* share_a, const float* share_b, int count);

// Adds what crosses a row of faces in a step of dt [s] to sums [m2].
void add_row(double* sum, const float* q, double dt, int count);

// Rates [m/s] where cells are active, 0 elsewhere. Raises `most` to the largest. False when one is negative
// or no number.
bool take_rates(const double* rates, const unsigned char* active, double* taken, int count, double& most);

// False when one of them is infinite or no number.
bool all_finite(const double* values, int count);

// Manning's n squared of a row of cells with vegetation, at their present depth. See bent_roughness().
struct RoughnessRow {
  const float *mobile = nullptr, *thin = nullptr, *log_ratio = nullptr, *bend = nullptr;
  float* n_squared = nullptr;
  int count = 0;
};
// Of a whole row; the law is that of friction.hpp.
void roughness_row(const RoughnessRow& row);

// Volume balance of a row: flow, then supply, then what the sinks take. Returns the deepest mobile water [m].
float update_row(const CellRow& row, const StepNumbers& numbers);

} // namespace lowspot::surface
