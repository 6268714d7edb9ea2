#include <lowspot/gis/raster.hpp>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>

#include <lowspot/base/error.hpp>
#include <lowspot/base/text.hpp>
#include <lowspot/gis/ascii_grid.hpp>
#include <lowspot/gis/gdal_session.hpp>
#include <lowspot/gis/masked_copy.hpp>
#include <lowspot/gis/reference.hpp>
#include <lowspot/gis/warp.hpp>

namespace lowspot::gis {

#ifndef LOWSPOT_WITH_GDAL

Raster read_raster(const std::filesystem::path& path, const RasterRequest&) {
  throw InputError({path.string(), 0, ""}, "a raster, and this build reads no rasters",
                   "levels or breaklines",
                   "give levels.csv instead, or build the program with LOWSPOT_GIS=ON.");
}

#else
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

DatasetPtr open_raster(const std::filesystem::path& path, const ErrorCatcher& errors) {
  std::error_code ignored;
  if (!std::filesystem::exists(path, ignored))
    throw InputError({path.string(), 0, ""}, "no such file", "a raster of heights",
                     "check the name; it is looked for beside the site file.");
  if (is_ascii_grid(path)) check_ascii_grid(path);
  const char* const allowed[] = {"GTiff", "AAIGrid", nullptr};
  // Text heights would be cut to single precision; a GeoTIFF says itself what it holds and passes over the
  // option.
  const char* const options[] = {"DATATYPE=Float64", nullptr};
  DatasetPtr dataset(GDALDataset::Open(path.c_str(), GDAL_OF_RASTER | GDAL_OF_READONLY, allowed, options));
  if (!dataset)
    throw InputError({path.string(), 0, ""},
                     "a file that is no GeoTIFF and no ASCII grid" +
                         (errors.message().empty() ? std::string() : " (" + errors.message() + ")"),
                     "a raster of heights", "save the heights as GeoTIFF.");
  return dataset;
}

void check_heights(GDALDataset& dataset, const std::string& file, std::vector<std::string>& warnings) {
  const int bands = dataset.GetRasterCount();
  if (bands < 1)
    throw InputError({file, 0, ""}, "a raster without bands", "one band of heights", "save it again.");
  if (bands > limits::raster_bands)
    throw InputError({file, 0, ""}, "a raster of " + std::to_string(bands) + " bands", "one band of heights",
                     "save the band of heights by itself.");
  GDALRasterBand* band = dataset.GetRasterBand(1);
  const GDALDataType type = band->GetRasterDataType();
  const bool picture = band->GetColorTable() || (bands >= 3 && type == GDT_Byte);
  if (picture || GDALDataTypeIsComplex(type))
    throw InputError({file, 0, ""}, picture ? "a picture" : "complex numbers", "one band of heights",
                     "give the raster of ground heights, not a rendering of it.");
  int width = 0, height = 0;
  band->GetBlockSize(&width, &height);
  const double block = static_cast<double>(width) * height * GDALGetDataTypeSizeBytes(type);
  if (block > limits::raster_block_bytes)
    throw InputError({file, 0, ""},
                     "a raster in pieces of " + rounded(width, 9) + " by " + rounded(height, 9) +
                         " cells, each of which would take " + rounded(block / 1e9) + " GB",
                     "pieces of " + rounded(limits::raster_block_bytes / 1e9) + " GB at most",
                     "cut the raster to the yard, or save it in tiles.");
  if (bands > 1)
    warnings.push_back(file + " has " + std::to_string(bands) + " bands; the first is taken as heights.");
}

InputError no_place(const std::string& file) {
  return InputError({file, 0, ""}, "a raster that does not say where it lies", "a georeferenced raster",
                    "save it with its place (a GeoTIFF with a geotransform).");
}

struct Placement {
  double west, north, dx, dy; // dy positive, counted southward
};

Placement placement_of(GDALDataset& dataset, const std::string& file) {
  double gt[6] = {0, 1, 0, 0, 0, 1};
  if (dataset.GetGeoTransform(gt) != CE_None) throw no_place(file);
  for (const double term : gt)
    if (!std::isfinite(term) || std::abs(term) > 1e12) throw no_place(file);
  return {gt[0], gt[3], gt[1], -gt[5]};
}

struct Window {
  int column = 0, row = 0, columns = 0, rows = 0; // rows counted from the north
};

Window window_of(const Placement& place, int nx, int ny, const std::optional<Box>& box,
                 const std::string& file) {
  if (!box) return {0, 0, nx, ny};
  constexpr double margin = 2; // bilinear needs one cell beyond the limit; one more for the rim of a hole
  const double west = std::floor((box->low.x - place.west) / place.dx) - margin;
  const double east = std::ceil((box->high.x - place.west) / place.dx) + margin;
  const double top = std::floor((place.north - box->high.y) / place.dy) - margin;
  const double bottom = std::ceil((place.north - box->low.y) / place.dy) + margin;
  if (!(east - margin > 0) || !(west + margin < nx) || !(bottom - margin > 0) || !(top + margin < ny)) {
    auto span = [](double a, double b) { return rounded(a, 9) + " to " + rounded(b, 9); };
    throw InputError({file, 0, ""},
                     "a raster over x " + span(place.west, place.west + nx * place.dx) + ", y " +
                         span(place.north - ny * place.dy, place.north) + ", which misses the yard",
                     "heights over x " + span(box->low.x, box->high.x) + ", y " +
                         span(box->low.y, box->high.y),
                     "use coordinates of the raster's own system in the site file, or name the crs of both.");
  }
  Window window;
  window.column = static_cast<int>(std::max(0.0, west));
  window.row = static_cast<int>(std::max(0.0, top));
  window.columns = static_cast<int>(std::min<double>(nx, east)) - window.column;
  window.rows = static_cast<int>(std::min<double>(ny, bottom)) - window.row;
  return window;
}

// Reads the window southern row first, undoes scale and offset and turns what is no data into NaN.
void read_heights(GDALDataset& dataset, const Window& window, Raster& raster, const std::string& file,
                  const ErrorCatcher& errors) {
  GDALRasterBand* band = dataset.GetRasterBand(1);
  int has_scale = 0, has_offset = 0;
  double scale = band->GetScale(&has_scale), offset = band->GetOffset(&has_offset);
  if (!has_scale || scale == 0) scale = 1;
  if (!has_offset) offset = 0;
  const bool masked = !(band->GetMaskFlags() & GMF_ALL_VALID);
  raster.z.resize(static_cast<std::size_t>(window.columns) * window.rows);
  std::vector<std::uint8_t> mask(masked ? window.columns : 0);
  std::size_t undeclared = 0;
  for (int j = 0; j < window.rows; ++j) {
    double* row = raster.z.data() + static_cast<std::size_t>(window.rows - 1 - j) * window.columns;
    CPLErr failed = band->RasterIO(GF_Read, window.column, window.row + j, window.columns, 1, row,
                                   window.columns, 1, GDT_Float64, 0, 0, nullptr);
    if (failed == CE_None && masked)
      failed = band->GetMaskBand()->RasterIO(GF_Read, window.column, window.row + j, window.columns, 1,
                                             mask.data(), window.columns, 1, GDT_Byte, 0, 0, nullptr);
    if (failed != CE_None)
      throw InputError({file, 0, ""}, "a raster that breaks off (" + errors.message() + ")", "a whole file",
                       "copy or download it again.");
    for (int i = 0; i < window.columns; ++i) {
      if (is_filler(row[i]) || (masked && mask[i] == 0))
        row[i] = nan;
      else if (row[i] = row[i] * scale + offset; row[i] < lowest_ground) {
        row[i] = nan;
        ++undeclared;
      }
    }
  }
  if (undeclared > 0) raster.warnings.push_back(below_any_ground(file, undeclared));
}

} // namespace

Raster read_raster(const std::filesystem::path& path, const RasterRequest& request) {
  register_drivers();
  const ErrorCatcher errors;
  const std::string file = path.string();
  Raster raster;
  DatasetPtr dataset = open_raster(path, errors);
  check_heights(*dataset, file, raster.warnings);
  placement_of(*dataset, file); // a raster without a place cannot be warped either
  raster.metres_per_vertical_unit = vertical_unit(*dataset);
  std::string unit = trim(dataset->GetRasterBand(1)->GetUnitType()).substr(0, 40);
  for (char& sign : unit) // anything may stand in a file
    if (sign < ' ' || sign > '~') sign = '?';
  if (std::isnan(raster.metres_per_vertical_unit) && !unit.empty())
    raster.warnings.push_back(
        file + " says that its heights are in \"" + unit +
        "\", which is no unit known here: raster_units in [ground] says what they are.");
  raster.metres_per_file_unit = horizontal_unit(*dataset);
  raster.file_in_degrees = horizontal_reference(*dataset).IsGeographic() != 0;
  dataset = warp_when_needed(std::move(dataset), request, file, errors, raster.warnings);
  dataset = turned_north_up(std::move(dataset), request, file, errors, raster.warnings);

  const Placement place = placement_of(*dataset, file);
  const Window window =
      window_of(place, dataset->GetRasterXSize(), dataset->GetRasterYSize(), request.window, file);
  const double cells = static_cast<double>(window.columns) * window.rows;
  if (cells > limits::raster_cells) throw too_many_cells(file, cells);
  raster.nx = window.columns;
  raster.ny = window.rows;
  raster.dx = place.dx;
  raster.dy = place.dy;
  raster.x0 = place.west + window.column * place.dx;
  raster.y0 = place.north - (window.row + window.rows) * place.dy;
  raster.crs = reference_text(*dataset);
  raster.metres_per_horizontal_unit = horizontal_unit(*dataset);
  read_heights(*dataset, window, raster, file, errors);
  return raster;
}
#endif

} // namespace lowspot::gis
