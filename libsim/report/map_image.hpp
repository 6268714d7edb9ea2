// Maps as pixels: the ground with its shading, and water in the colours of a scale.
#pragma once
#include <lowspot/base/field.hpp>
#include <lowspot/base/grid.hpp>
#include <lowspot/report/paint.hpp>
#include <lowspot/report/scale.hpp>
#include <lowspot/results/record.hpp>
#include <lowspot/site/site.hpp>

namespace lowspot::report {

// How many pixels a cell is drawn with, so that a small grid does not look like a chessboard.
int pixels_per_cell(const Grid& grid);

// Value in the middle of a pixel, bilinear between the centres of active cells; pixel (0, 0) is the
// north-west one. Not a number where the cell under the pixel is not active.
double value_at_pixel(const Field& field, const Mask& active, const Grid& grid, int factor, int column,
                      int row);

// Shading of the ground by a light from the north-west, 0 (dark) to 1 (bright), exaggerated to suit the yard.
Field hillshade(const Field& elevation, const Mask& active, const Grid& grid);

// Ground tinted by cover (lawn, hard surface, bed) and shaded.
// elevation: of the ground to show; that of the yard or of a design.
Image ground_image(const results::Comparison& comparison, const site::Site& site, const Field& elevation);
// field: SI or hours. Pixels below the first class are transparent.
Image class_image(const Field& field, const Mask& active, const Grid& grid, const Scale& scale);

} // namespace lowspot::report
