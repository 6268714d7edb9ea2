// How far on either side a trench lowers the perched water.
#pragma once
#include <vector>

#include <lowspot/base/field.hpp>
#include <lowspot/base/grid.hpp>
#include <lowspot/results/record.hpp>

namespace lowspot::results {

// before, after: saturated thickness at one time, one value a cell [m]. half_width: of the trench [m].
// Cells beside the run (not beyond its ends) are gathered by their distance from the wall in rings one cell
// wide; the reach ends with the first ring in which the mean thickness is more than half of what it was, or
// in which nothing was saturated before (1 mm); at the half, straight between the mean distances of rings.
// Side by the nearest piece of the path, looking from head to foot.
DrainReach reach_of_trench(const Grid& grid, const Mask& active, const Polyline& path, double half_width,
                           const std::vector<float>& before, const std::vector<float>& after);

// Fills DrainRecord::reach of every run with a trench, at the first map at least `later` [s] after the rain
// that both runs kept. Does nothing without maps. widths: of the trenches, 0 without one [m].
void find_reach(const Comparison& comparison, DesignRecord& design, const std::vector<double>& widths,
                double later);

} // namespace lowspot::results
