// Heights of a raster brought to the grid.
#pragma once
#include <lowspot/base/field.hpp>
#include <lowspot/base/grid.hpp>
#include <lowspot/gis/raster.hpp>
#include <lowspot/site/site.hpp>

namespace lowspot::terrain {

// A raster in metres, its holes filled.
struct HeightMap {
  gis::Raster raster; // coordinates and heights in metres
  Mask hole;          // 1 where the file had no data
};

// Reads what covers the grid. Horizontal coordinates are in site units; where the raster misses the yard so
// and its system names another unit in which it does not, in that one, with a warning. Heights: the unit
// stated in the site file, else the file's, else site units (an assumption). Throws InputError as
// gis::read_raster, and when there are no heights at all over the yard.
HeightMap read_height_map(const site::Site& site, const Grid& grid, std::vector<std::string>& warnings,
                          std::vector<site::Assumption>& assumptions);

// A raster's height at one place.
struct SampledHeight {
  double z = 0;           // m
  bool from_hole = false; // the nearest value of the raster was filled
  bool outside = false;   // beyond the raster; z is that of its nearest cell
};
// Bilinear between the centres of the raster's cells.
SampledHeight height_at(const HeightMap& map, const Point& at);

// Heights at the centres of cells, or the mean over the cell where several raster cells lie in it. Adds to
// `outside` the cells beyond the raster and to the assumptions how many were taken from filled holes.
Field heights_on(const HeightMap& map, const Grid& grid, const Mask& active, Mask& outside,
                 std::vector<site::Assumption>& assumptions, std::vector<std::string>& warnings);

} // namespace lowspot::terrain
