// Several holes in one layer: what they say together, and whether one more is worth digging.
#pragma once
#include <span>

#include <lowspot/measure/hole_test.hpp>

namespace lowspot::measure {

// Conductivities of one ground are log-normal, and holes on one lot commonly differ tenfold: between P10 and
// P90, a standard deviation of ln(10) / 2.56 of the logarithm. That much is assumed before any hole is dug,
// with the weight of two holes; what the holes show is added to it.
inline constexpr double assumed_spread = 0.898;
// In holes.
inline constexpr double assumed_weight = 2;

// What several holes say of their layer.
struct Together {
  int holes = 0;     // how many
  double spread = 0; // standard deviation of the logarithm between holes
  // What the yard may have at any one place, such as the low spot [m/s]: the scatter between holes, the doubt
  // about their mean, and what all holes share (suction, shape factor, presoak). Narrower with every hole,
  // but never narrower than the ground itself varies.
  Range anywhere;
  // The yard on the average: narrows with the root of the number of holes, down to what all holes share.
  Range average;
  // By what share one more hole like these would narrow the average's band, as a logarithm (0..1).
  double next_narrows = 0;
};

// Below this share one more hole is not worth digging.
inline constexpr double worth_digging = 0.10;

// holes: bands with low <= likely <= high, all > 0; at least one. Throws std::invalid_argument otherwise.
Together combine(std::span<const Range> holes);

} // namespace lowspot::measure
