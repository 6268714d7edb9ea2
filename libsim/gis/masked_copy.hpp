// Part of a raster in memory, with a hole wherever the file has nothing.
#pragma once
#ifdef LOWSPOT_WITH_GDAL
#include <string>
#include <vector>

#include <lowspot/gis/gdal_session.hpp>

namespace lowspot::gis {

// Below this no ground lies, in whatever unit: -9999 and the like that a file does not declare.
inline constexpr double lowest_ground = -9000;

// A stored number that is no height: not finite, or beyond any.
bool is_filler(double value);

// A rectangle of pixels, rows counted from the first of the file.
struct Pixels {
  int column = 0;  // the first
  int row = 0;     // the first
  int columns = 0; // how many
  int rows = 0;    // how many
};

// The first band over these pixels, as stored (scale and offset not applied), in the place and system of the
// file; not a number where there is no data by the file's word or by what stands there, with a warning for
// what lies below lowest_ground. Interpolation would mix such figures into their neighbours. Throws
// InputError for a file that breaks off.
DatasetPtr masked_copy(GDALDataset& dataset, const Pixels& pixels, const std::string& file,
                       const ErrorCatcher& errors, std::vector<std::string>& warnings);

// What is said of cells below lowest_ground.
std::string below_any_ground(const std::string& file, std::size_t cells);

} // namespace lowspot::gis
#endif
