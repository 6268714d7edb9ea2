// The inner loops over rows of faces, on flat arrays. What moves water is worked out in single precision,
// from differences formed in double.
#pragma once
#include <lowspot/surface/kernel.hpp>

namespace lowspot::surface {

// The same as the faces need it, worked out once a step.
struct FaceNumbers {
  // Of faces at which waves are stable up to stable_celerity, squared [m2/s2].
  FaceNumbers(const StepNumbers& numbers, double stable_celerity);
  float dt = 0, dt_by_cell = 0; // s, s/m
  float cliff = 0;              // 1/m
  float wall = 0;               // s2/m2: head of a speed, over the width of a cell
  float cap = 0, stable = 0;    // m2/s2: celerity squared, and what it may be in this step
  float passing = 0;            // m2/s2: squared, that of waves that pass too much of a cell in a step
  float allowed_drop = 0;       // m2/s2
  float floor_factor = 0;       // as in StepNumbers
  float foresight = 0;          // the same, less where the step before was longer
  float unsteady = 0;           // m/s: for the celerity where water rises
  float change_limit = 0;       // of the change of a level in a step, of its depth, for quick steps
};

// What a full step leaves for the quick ones after it, at each face. A negative force: quick
// steps find this face in full, too.
struct Kept {
  float* force = nullptr;      // m/s: times the fall of the surface, what discharge gains in a step
  float* friction = nullptr;   // s/m2
  float* transverse = nullptr; // m2/s: discharge across
  float* follow = nullptr;     // 1/m: how much of its friction a metre more of depth takes
  float* upper = nullptr;      // m of mobile water in the upper cell, negative where that is b
};

// A row of faces between the cells a (west or south) and b (east or north). All pointers to the first face.
// Whole vectors are read and written: up to Frame::vector - 1 numbers after the last face.
struct FaceRow {
  const double *level_a = nullptr, *level_b = nullptr; // m: mobile water surface, the bed where there is none
  const float *change_a = nullptr, *change_b = nullptr; // m: of these levels in the step before
  // m: how far the sill lies above the beds of a and b, >= 0; below it nothing passes
  const float *rise_a = nullptr, *rise_b = nullptr;
  bool walls = false; // whether the sill of some face lies above both
  // m of mobile water in a and b, and in the cells behind them
  const float *h_a = nullptr, *h_b = nullptr, *h_behind_a = nullptr, *h_behind_b = nullptr;
  const float *roughness_a = nullptr, *roughness_b = nullptr; // Manning n squared
  const float *softening_a = nullptr, *softening_b = nullptr; // 1/m: see RoughnessRow; for quick steps
  const float* q = nullptr;                                   // m2/s
  // The four faces across: two on either side of the flow, first those on the one side, then on the other.
  const float *t1 = nullptr, *t2 = nullptr, *t3 = nullptr, *t4 = nullptr;
  float* q_new = nullptr; // m2/s: where the new discharge goes
  Kept kept;              // none, or where a full step leaves its numbers and a quick one finds them
  int count = 0;          // of faces
};

// What a row of faces had.
struct FaceAnswer {
  float celerity_squared = 0; // m2/s2, the largest
  int wet = 0;                // faces that carry water, counted where numbers are kept
  int rushing = 0;            // those of them that quick steps would find in full
};

// Momentum without advective acceleration (Bates et al. 2010; de Almeida et al. 2012): discharge after dt.
FaceAnswer face_row(const FaceRow& row, const FaceNumbers& numbers);

// The same some steps later with the numbers kept: only the fall is new, and friction follows the depth of
// the upper cell to first order. Keeps still water and steady flow exactly as they are, like a full step.
// Returns the largest celerity squared of those found in full; counts none.
FaceAnswer quick_face_row(const FaceRow& row, const FaceNumbers& numbers);

} // namespace lowspot::surface
