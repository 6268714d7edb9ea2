// What a raster file says about its coordinate system and units.
#pragma once
#ifdef LOWSPOT_WITH_GDAL
#include <string>

#include <lowspot/gis/gdal_session.hpp>

namespace lowspot::gis {

// The horizontal part of a data set's coordinate system; an empty object when it names none.
OGRSpatialReference horizontal_reference(const GDALDataset& dataset);
// The system a person names ("EPSG:6549", well-known text). Throws InputError, naming `file`, when unknown.
OGRSpatialReference reference_named(const std::string& name, const std::string& file);
// Well-known text, empty when the data set names no system.
std::string reference_text(const GDALDataset& dataset);
// Metres in one unit of the heights, from the band or the vertical part of the system; NaN when not said.
double vertical_unit(GDALDataset& dataset);
// Metres in one unit of the plane coordinates; NaN when not said or in degrees.
double horizontal_unit(const GDALDataset& dataset);

} // namespace lowspot::gis
#endif
