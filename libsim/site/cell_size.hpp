// How fine a grid a yard gets when its site file does not say.
#pragma once
#include <string>

#include <lowspot/base/geometry.hpp>

namespace lowspot::site {

constexpr double usual_cells = 40e3; // the default cell stays below this: about a second a run

// How many cells of this size [m] cover a box.
double cells_in(const Box& box, double cell);
// Bytes one run needs, all fields of the yard together, beside its maps over time.
double memory_for(double cells);
// A round cell size, as written: "6 in" (or "0.15 m") and up, the first that gives at most usual_cells; where
// that leaves parts of cells over at the sides, the next up to 1.4 times as large that does not, if there is
// one.
std::string default_cell(const Box& box, const std::string& units);

} // namespace lowspot::site
