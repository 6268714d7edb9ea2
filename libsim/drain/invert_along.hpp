// The invert of a run between the points of its path.
#pragma once
#include <lowspot/drain/layout.hpp>

namespace lowspot::drain {

// Invert [m] at a distance `along` [m] from the head, straight between the points of the path; the ends hold
// beyond it.
double invert_along(const Run& run, double along);

} // namespace lowspot::drain
