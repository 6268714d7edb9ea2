// Heights on a regular raster, as read from a file of any kind the raster library knows to be safe.
#pragma once
#include <cstddef>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include <lowspot/base/geometry.hpp>
#include <lowspot/base/limits.hpp>

namespace lowspot::gis {

// nx by ny cells of dx by dy, row 0 in the south; (x0, y0) is the south-west corner of cell (0, 0).
// Coordinates are those of the coordinate system `crs`, heights those of the file after its scale and offset.
struct Raster {
  int nx = 0;                            // columns
  int ny = 0;                            // rows
  double x0 = 0;                         // of the western limit, in the unit of `crs`
  double y0 = 0;                         // of the southern limit, in the unit of `crs`
  double dx = 0;                         // width of a cell, in the unit of `crs`
  double dy = 0;                         // height of a cell, in the unit of `crs`
  std::vector<double> z;                 // NaN where the file has no data
  std::string crs;                       // well-known text, empty when the file names none
  double metres_per_vertical_unit = 0;   // NaN when the file does not say
  double metres_per_horizontal_unit = 0; // NaN when the file does not say; of what is returned, after a warp
  double metres_per_file_unit =
      0;                        // of the coordinates in the file, before a warp; NaN in degrees or not said
  bool file_in_degrees = false; // whether those are longitude and latitude
  std::vector<std::string> warnings; // sentences about what was taken for granted

  double at(int i, int j) const { return z[static_cast<std::size_t>(j) * nx + i]; }
};

// What to read of a raster, and in which system to return it.
struct RasterRequest {
  std::optional<Box> window; // read only what covers this, and two cells around it; in coordinates of `crs`
  std::string crs;           // warp to this system when the file names another; empty: as it is in the file
};

// Reads the first band of a GeoTIFF or an ASCII grid. Cells marked as empty by the file (no-data value,
// mask), heights that are no finite number or beyond any ground (3.4e38, -9999 undeclared) come back as NaN.
// Throws InputError when the file is missing, is no raster or has no place in the world, does not
// touch the window, holds a picture instead of heights, is in degrees with no system to warp to, or would
// need more than limits::raster_cells or a block beyond limits::raster_block_bytes, or is a damaged ASCII
// grid (check_ascii_grid); and always in a build without the raster library.
Raster read_raster(const std::filesystem::path& path, const RasterRequest& request = {});

} // namespace lowspot::gis
