#include <lowspot/results/georeference.hpp>

#include <cstdint>

#include <lowspot/base/text.hpp>
#include <lowspot/results/hdf5_tools.hpp>

namespace lowspot::results {
namespace {

constexpr double foot = 0.3048;
constexpr const char* own_grid =
    R"(LOCAL_CS["Site grid",UNIT["metre",1],AXIS["Easting",EAST],AXIS["Northing",NORTH]])";

// "EPSG:26917" and the like; anything else that is not empty is taken for WKT.
bool is_code(const std::string& crs) {
  const auto colon = crs.find(':');
  return colon != std::string::npos && colon > 0 && crs.find('[') == std::string::npos;
}

} // namespace

Georeference georeference(const Comparison& comparison) {
  Georeference place;
  const Grid& grid = comparison.grid;
  const bool local = comparison.crs.empty();
  const double unit = !local && comparison.units == "ft" ? foot : 1.0;
  place.unit_name = unit == foot ? "foot" : "m";
  if (local)
    place.wkt = own_grid;
  else if (is_code(comparison.crs))
    place.authority = comparison.crs;
  else
    place.wkt = comparison.crs;
  for (int i = 0; i < grid.nx; ++i) place.x.push_back(grid.x(i) / unit);
  for (int j = 0; j < grid.ny; ++j) place.y.push_back(grid.y(j) / unit);
  place.cell = grid.cell / unit;
  place.x0 = grid.x0 / unit;
  place.y_top = (grid.y0 + grid.ny * grid.cell) / unit;
  return place;
}

void write_grid_mapping(const H5::H5File& file, const Georeference& place) {
  hdf5::create_group(file, "georef");
  hdf5::Variable crs = file.createDataSet(grid_mapping_path, H5::PredType::NATIVE_INT32,
                                          H5::DataSpace(H5S_SCALAR), hdf5::ordered_properties());
  const std::int32_t nothing = 0;
  crs.write(&nothing, H5::PredType::NATIVE_INT32);
  if (!place.wkt.empty()) {
    hdf5::text_attribute(crs, "crs_wkt", place.wkt);
    hdf5::text_attribute(crs, "spatial_ref", place.wkt);
  }
  if (!place.authority.empty()) hdf5::text_attribute(crs, "epsg_code", place.authority);
  hdf5::text_attribute(crs, "GeoTransform",
                       number_text(place.x0) + ' ' + number_text(place.cell) + " 0 " +
                           number_text(place.y_top) + " 0 " + number_text(-place.cell));
  crs.close();
}

} // namespace lowspot::results
