// A map of the yard as a GeoTIFF.
#pragma once
#include <filesystem>
#include <string>
#include <vector>

namespace lowspot::gis {

// nx by ny square cells, row 0 in the south; (x0, y0) is the south-west corner. NaN where there is no value.
struct RasterMap {
  int nx = 0, ny = 0;              // columns and rows
  double x0 = 0, y0 = 0, cell = 0; // in the unit of the coordinates
  std::vector<double> values;      // one a cell, in `unit`
  std::string name, unit;          // "standing hours after the rain", "h"
};

// Writes one band of single-precision figures, compressed, with the system when `crs` is given. Throws
// InputError when the file cannot be written, the system is unknown, or this build has no map files;
// std::invalid_argument when values do not fit the size.
void write_geotiff(const std::filesystem::path& path, const RasterMap& map, const std::string& crs);

// Well-known text of a named system; empty in a build without map files, or for an empty name. Throws
// InputError, naming `file`, when the system is unknown.
std::string well_known_text(const std::string& crs, const std::string& file);

} // namespace lowspot::gis
