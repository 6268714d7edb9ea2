// Brings a raster into the coordinate system of the yard. Copies are made of what the window needs, with
// holes where the file has no data (masked_copy()), so that none is mixed into its neighbours.
#pragma once
#ifdef LOWSPOT_WITH_GDAL
#include <string>
#include <vector>

#include <lowspot/base/error.hpp>
#include <lowspot/gis/gdal_session.hpp>
#include <lowspot/gis/raster.hpp>

namespace lowspot::gis {

// The data set itself where its system is the one asked for or either is unknown (with a warning when just
// one is), else a copy in memory, bilinear, over the window asked for. Throws InputError when the system
// asked for is unknown, the raster is in degrees with none asked for, or the copy would be too large.
DatasetPtr warp_when_needed(DatasetPtr dataset, const RasterRequest& request, const std::string& file,
                            const ErrorCatcher& errors, std::vector<std::string>& warnings);

// The data set itself where north is up, else a copy in memory with north up over the window: bilinear where
// it is turned, the very values where it is only mirrored or turned by quarters. Throws InputError when it
// misses the window or the copy would be too large.
DatasetPtr turned_north_up(DatasetPtr dataset, const RasterRequest& request, const std::string& file,
                           const ErrorCatcher& errors, std::vector<std::string>& warnings);

InputError too_many_cells(const std::string& file, double cells);

} // namespace lowspot::gis
#endif
