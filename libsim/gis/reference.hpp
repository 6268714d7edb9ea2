// What a raster file says about its coordinate system and units.
#pragma once
#include <string>

#ifdef LOWSPOT_WITH_GDAL
#include <lowspot/gis/gdal_session.hpp>
#endif

namespace lowspot::gis {

// Metres in one unit of the plane coordinates of the system that a person names ("EPSG:6549", well-known
// text). NaN in a build without map files, which knows no systems. Throws InputError, naming `file`, when the
// system is unknown or counts in degrees.
double metres_per_unit(const std::string& crs, const std::string& file);

#ifdef LOWSPOT_WITH_GDAL
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
#endif

} // namespace lowspot::gis
