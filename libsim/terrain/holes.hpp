// Fills what a raster does not know.
#pragma once
#include <cstddef>
#include <vector>

namespace lowspot::terrain {

// Replaces NaN in nx by ny values (row by row) by the surface of a stretched membrane hung on the rim of each
// hole: every filled value is the mean of its four neighbours, so that no pit or peak is made. Past the
// border nothing pulls. Returns the number filled. Values all NaN stay as they are. Solved by conjugate
// gradients from a start that was solved on half the resolution, to 1e-6 of the values' unit.
std::size_t fill_holes(std::vector<double>& values, int nx, int ny);

} // namespace lowspot::terrain
