// Lines of equal value across a grid.
#pragma once
#include <vector>

#include <lowspot/base/field.hpp>
#include <lowspot/base/geometry.hpp>
#include <lowspot/base/grid.hpp>

namespace lowspot::report {

// Lines where the field passes `level`, by marching squares over the centres of active cells (Lorensen and
// Cline 1987, in the plane), joined end to end; a closed line ends where it begins. Points in metres.
std::vector<Polyline> isolines(const Field& field, const Mask& active, const Grid& grid, double level);

// Levels a round step apart (1, 2 or 5 times a power of ten, in `unit`) that cut a range into at most `most`
// parts. Returned in metres; step in metres too.
std::vector<double> round_levels(double low, double high, double unit, int most, double* step = nullptr);

} // namespace lowspot::report
