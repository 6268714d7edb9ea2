// Where the grid lies on earth, as far as the site file says.
#pragma once
#include <string>
#include <vector>

#include <H5Cpp.h>

#include <lowspot/results/record.hpp>

namespace lowspot::results {

// The grid-mapping variable lies in a group: in the root, viewers would choose its empty dimension as the
// default.
constexpr const char* grid_mapping_path = "/georef/crs";

// The grid in the coordinates of the site file.
struct Georeference {
  std::vector<double> x, y;           // cell centres, in `unit_name`
  std::string unit_name;              // "m" or "foot"
  std::string wkt;                    // reference system as text
  std::string authority;              // "EPSG:1234" when the site file gave a code
  double cell = 0, x0 = 0, y_top = 0; // in `unit_name`
};

// With a reference system the coordinates are those of the site file, in its unit; without one they are
// metres on a grid of the site's own.
Georeference georeference(const Comparison& comparison);
void write_grid_mapping(const H5::H5File& file, const Georeference& place);

} // namespace lowspot::results
