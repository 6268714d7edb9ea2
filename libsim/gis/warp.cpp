#include <lowspot/gis/warp.hpp>

#ifdef LOWSPOT_WITH_GDAL
#include <algorithm>
#include <cmath>
#include <limits>
#include <memory>

#include <cpl_conv.h>
#include <gdal_alg.h>
#include <gdal_utils.h>
#include <ogr_spatialref.h>

#include <lowspot/base/text.hpp>
#include <lowspot/gis/masked_copy.hpp>
#include <lowspot/gis/reference.hpp>

namespace lowspot::gis {
namespace {

std::string text_of(const OGRSpatialReference& reference) {
  char* text = nullptr;
  const char* const options[] = {"FORMAT=WKT2_2019", nullptr};
  std::string result;
  if (reference.exportToWkt(&text, options) == OGRERR_NONE && text) result = text;
  CPLFree(text);
  return result;
}

struct Extent {
  double west, south, east, north, dx, dy;
};

// Keeps of the extent what a window needs, with a margin. False where they do not touch.
bool keep_window(Extent& extent, const std::optional<Box>& window) {
  if (!window) return true;
  // By whole cells, so that samples stay where they were.
  auto inward = [](double limit, double wanted, double cell) {
    return limit + std::max(0.0, std::floor((wanted - limit) / cell) - 3) * cell;
  };
  extent.west = inward(extent.west, window->low.x, extent.dx);
  extent.south = inward(extent.south, window->low.y, extent.dy);
  extent.east = -inward(-extent.east, -window->high.x, extent.dx);
  extent.north = -inward(-extent.north, -window->high.y, extent.dy);
  return extent.west < extent.east && extent.south < extent.north;
}

InputError misses(const std::string& file) {
  return InputError({file, 0, ""}, "a raster that misses the yard", "heights over the yard",
                    "check the crs of the site file and the coordinates of the outline.");
}

// The extent and cell size that the warped raster will have, known before any memory is taken.
Extent suggested_extent(GDALDataset& dataset, const std::string& from, const std::string& to,
                        const std::optional<Box>& window, const std::string& file,
                        const ErrorCatcher& errors) {
  void* transformer = GDALCreateGenImgProjTransformer(GDALDataset::ToHandle(&dataset), from.c_str(), nullptr,
                                                      to.c_str(), FALSE, 0, 1);
  double gt[6], bounds[4];
  int columns = 0, rows = 0;
  const bool ok =
      transformer && GDALSuggestedWarpOutput2(GDALDataset::ToHandle(&dataset), GDALGenImgProjTransform,
                                              transformer, gt, &columns, &rows, bounds, 0) == CE_None;
  if (transformer) GDALDestroyGenImgProjTransformer(transformer);
  if (!ok)
    throw InputError(
        {file, 0, "crs"}, "a raster that cannot be brought into the yard's system (" + errors.message() + ")",
        "systems that can be converted into each other", "check the crs of the site and of the raster.");
  Extent extent{bounds[0], bounds[1], bounds[2], bounds[3], gt[1], gt[1]};
  if (!keep_window(extent, window)) throw misses(file);
  return extent;
}

// The pixels of a data set that lie under an extent, with a margin. The extent is in the system `to`.
Pixels pixels_under(GDALDataset& dataset, const std::string& from, const std::string& to,
                    const Extent& extent, const std::string& file) {
  Extent under = extent;
  if (!from.empty()) {
    OGRSpatialReference own(from.c_str()), theirs(to.c_str());
    own.SetAxisMappingStrategy(OAMS_TRADITIONAL_GIS_ORDER);
    theirs.SetAxisMappingStrategy(OAMS_TRADITIONAL_GIS_ORDER);
    const std::unique_ptr<OGRCoordinateTransformation> back(OGRCreateCoordinateTransformation(&theirs, &own));
    if (!back || !back->TransformBounds(extent.west, extent.south, extent.east, extent.north, &under.west,
                                        &under.south, &under.east, &under.north, 21))
      return {0, 0, dataset.GetRasterXSize(), dataset.GetRasterYSize()};
  }
  double gt[6], inverse[6];
  if (dataset.GetGeoTransform(gt) != CE_None || !GDALInvGeoTransform(gt, inverse)) throw misses(file);
  constexpr double margin = 4, huge = std::numeric_limits<double>::infinity(); // pixels
  double first_column = huge, last_column = -huge, first_row = huge, last_row = -huge;
  for (const double x : {under.west, under.east})
    for (const double y : {under.south, under.north}) {
      const double column = inverse[0] + x * inverse[1] + y * inverse[2];
      const double row = inverse[3] + x * inverse[4] + y * inverse[5];
      first_column = std::min(first_column, column), last_column = std::max(last_column, column);
      first_row = std::min(first_row, row), last_row = std::max(last_row, row);
    }
  const auto inside = [](double value, int most) {
    return static_cast<int>(std::clamp(value, 0.0, 1.0 * most));
  };
  const int nx = dataset.GetRasterXSize(), ny = dataset.GetRasterYSize();
  Pixels pixels{inside(std::floor(first_column) - margin, nx), inside(std::floor(first_row) - margin, ny), 0,
                0};
  pixels.columns = inside(std::ceil(last_column) + margin, nx) - pixels.column;
  pixels.rows = inside(std::ceil(last_row) + margin, ny) - pixels.row;
  if (pixels.columns < 1 || pixels.rows < 1) throw misses(file);
  return pixels;
}

// A second band: 1 where the first has data, 0 in its holes. False where there is no hole.
bool add_shares(GDALDataset& dataset) {
  const int columns = dataset.GetRasterXSize(), rows = dataset.GetRasterYSize();
  std::vector<double> row(static_cast<std::size_t>(columns));
  const auto take = [&](GDALRWFlag way, int band, int line) {
    return dataset.GetRasterBand(band)->RasterIO(way, 0, line, columns, 1, row.data(), columns, 1,
                                                 GDT_Float64, 0, 0, nullptr) == CE_None;
  };
  const auto is_hole = [](double height) { return std::isnan(height); };
  bool any = false;
  for (int line = 0; line < rows && !any; ++line)
    any = take(GF_Read, 1, line) && std::any_of(row.begin(), row.end(), is_hole);
  if (!any || dataset.AddBand(GDT_Float64, nullptr) != CE_None) return false;
  for (int line = 0; line < rows; ++line) {
    if (!take(GF_Read, 1, line)) return false;
    for (double& height : row) height = is_hole(height) ? 0 : 1;
    if (!take(GF_Write, 2, line)) return false;
  }
  return true;
}

// Between a height and a hole the library takes the height for that of the whole way, so that ground on a
// slope would be off by half a cell's fall at the rim: what hangs on a hole is none either.
void cut_partly_empty(GDALDataset& dataset) {
  constexpr double whole = 1 - 1e-6; // of the weight of the four cells around
  const int columns = dataset.GetRasterXSize(), rows = dataset.GetRasterYSize();
  std::vector<double> heights(static_cast<std::size_t>(columns)), shares(heights.size());
  for (int line = 0; line < rows; ++line) {
    const auto take = [&](GDALRWFlag way, int band, std::vector<double>& row) {
      return dataset.GetRasterBand(band)->RasterIO(way, 0, line, columns, 1, row.data(), columns, 1,
                                                   GDT_Float64, 0, 0, nullptr) == CE_None;
    };
    if (!take(GF_Read, 1, heights) || !take(GF_Read, 2, shares)) return;
    for (std::size_t k = 0; k < heights.size(); ++k)
      if (!(shares[k] >= whole)) heights[k] = std::numeric_limits<double>::quiet_NaN();
    if (!take(GF_Write, 1, heights)) return;
  }
}

DatasetPtr warp(GDALDataset& whole, const std::string& from, const std::string& to, const Extent& extent,
                const std::string& file, const ErrorCatcher& errors, std::vector<std::string>& warnings) {
  const Pixels pixels = pixels_under(whole, from, to, extent, file);
  const double count = static_cast<double>(pixels.columns) * pixels.rows;
  if (count > limits::raster_cells) throw too_many_cells(file, count);
  const DatasetPtr part = masked_copy(whole, pixels, file, errors, warnings);
  GDALDataset& dataset = *part;
  const bool holed = add_shares(dataset);
  auto number = [](double value) { return number_text(value); };
  std::vector<std::string> words = {"-of", "MEM", "-ot", "Float64", "-r", "bilinear", "-dstnodata", "nan",
                                    "-et", // by how much of a cell places may be off
                                    "0.01",
                                    // Else the kernel is one for other cell sizes, wider than bilinear, and a
                                    // plane comes out with steps of a tenth of the fall over a cell.
                                    "-wo", "XSCALE=1", "-wo", "YSCALE=1", "-te", number(extent.west),
                                    number(extent.south), number(extent.east), number(extent.north), "-tr",
                                    number(extent.dx), number(extent.dy)};
  if (!from.empty()) words.insert(words.end(), {"-s_srs", from, "-t_srs", to});
  std::vector<char*> arguments;
  for (std::string& word : words) arguments.push_back(word.data());
  arguments.push_back(nullptr);
  const std::unique_ptr<GDALWarpAppOptions, decltype(&GDALWarpAppOptionsFree)> options(
      GDALWarpAppOptionsNew(arguments.data(), nullptr), &GDALWarpAppOptionsFree);
  GDALDatasetH source = GDALDataset::ToHandle(&dataset);
  DatasetPtr result;
  if (options) {
    // The first failure ends it: a file that breaks off would fail at each of its missing lines.
    struct Watch {
      const ErrorCatcher& errors;
      int before;
    } watch{errors, errors.failures()};
    const auto going = [](double, const char*, void* data) -> int {
      const auto& watched = *static_cast<const Watch*>(data);
      return watched.errors.failures() == watched.before ? 1 : 0;
    };
    GDALWarpAppOptionsSetProgress(options.get(), going, &watch);
    result.reset(GDALDataset::FromHandle(GDALWarp("", nullptr, 1, &source, options.get(), nullptr)));
  }
  if (!result)
    throw InputError({file, 0, ""}, "a raster that cannot be warped (" + errors.message() + ")",
                     "a raster in the yard's coordinate system", "warp it before, and leave crs out.");
  if (holed) cut_partly_empty(*result);
  // Scale and offset belong to the stored numbers, which a warp does not change.
  int has = 0;
  GDALRasterBand* band = whole.GetRasterBand(1);
  GDALRasterBand* target = result->GetRasterBand(1);
  if (const double scale = band->GetScale(&has); has) target->SetScale(scale);
  if (const double offset = band->GetOffset(&has); has) target->SetOffset(offset);
  return result;
}

} // namespace

InputError too_many_cells(const std::string& file, double cells) {
  return InputError({file, 0, ""},
                    rounded(cells, 3) + " cells over the yard, which would take " +
                        rounded(std::ceil(cells * sizeof(double) / 1e9), 3) + " GB",
                    "at most " + rounded(limits::raster_cells, 3) + " cells",
                    "cut the raster to the yard, or save it with larger cells.");
}

DatasetPtr warp_when_needed(DatasetPtr dataset, const RasterRequest& request, const std::string& file,
                            const ErrorCatcher& errors, std::vector<std::string>& warnings) {
  const OGRSpatialReference own = horizontal_reference(*dataset);
  if (request.crs.empty()) {
    if (!own.IsEmpty() && own.IsGeographic())
      throw InputError({file, 0, "crs"}, "a raster in degrees, and a site file that names no crs",
                       "coordinates in metres or feet",
                       "add crs = \"EPSG:...\" of the yard's coordinates to [site].");
    if (!own.IsEmpty())
      warnings.push_back(file + " names a coordinate system (" +
                         std::string(own.GetName() ? own.GetName() : "unnamed") +
                         ") and the site none; they are taken to be the same.");
    return dataset;
  }
  const OGRSpatialReference wanted = reference_named(request.crs, file);
  if (own.IsEmpty()) {
    warnings.push_back(file + " names no coordinate system; it is taken to be in the site's, " + request.crs +
                       ".");
    return dataset;
  }
  const char* const loosely[] = {"IGNORE_DATA_AXIS_TO_SRS_AXIS_MAPPING=YES", "CRITERION=EQUIVALENT", nullptr};
  if (own.IsSame(&wanted, loosely)) return dataset;
  const std::string from = text_of(own), to = text_of(wanted);
  const Extent extent = suggested_extent(*dataset, from, to, request.window, file, errors);
  const double cells = (extent.east - extent.west) / extent.dx * ((extent.north - extent.south) / extent.dy) *
                       dataset->GetRasterCount();
  if (cells > limits::raster_cells) throw too_many_cells(file, cells);
  return warp(*dataset, from, to, extent, file, errors, warnings);
}

DatasetPtr turned_north_up(DatasetPtr dataset, const RasterRequest& request, const std::string& file,
                           const ErrorCatcher& errors, std::vector<std::string>& warnings) {
  double gt[6];
  if (dataset->GetGeoTransform(gt) != CE_None) return dataset;
  if (gt[2] == 0 && gt[4] == 0 && gt[1] > 0 && gt[5] < 0) return dataset;
  if (gt[1] * gt[5] == gt[2] * gt[4])
    throw InputError({file, 0, ""}, "a raster whose cells have no area", "a georeferenced raster",
                     "save it with its place (a GeoTIFF with a geotransform).");
  const double across = dataset->GetRasterXSize(), down = dataset->GetRasterYSize();
  // The sides of a cell along x and y, whichever way it is turned: exact where it is only mirrored or turned
  // by quarters.
  const bool quarter = std::abs(gt[2]) + std::abs(gt[4]) > std::abs(gt[1]) + std::abs(gt[5]);
  const double along_columns = std::hypot(gt[1], gt[4]), along_rows = std::hypot(gt[2], gt[5]);
  Extent extent{
      gt[0], gt[3], gt[0], gt[3], quarter ? along_rows : along_columns, quarter ? along_columns : along_rows};
  for (double u : {0.0, across})
    for (double v : {0.0, down}) {
      const double x = gt[0] + u * gt[1] + v * gt[2], y = gt[3] + u * gt[4] + v * gt[5];
      extent.west = std::min(extent.west, x);
      extent.east = std::max(extent.east, x);
      extent.south = std::min(extent.south, y);
      extent.north = std::max(extent.north, y);
    }
  if (!keep_window(extent, request.window)) throw misses(file);
  const double cells = (extent.east - extent.west) / extent.dx * ((extent.north - extent.south) / extent.dy) *
                       dataset->GetRasterCount();
  if (cells > limits::raster_cells) throw too_many_cells(file, cells);
  return warp(*dataset, "", "", extent, file, errors, warnings);
}

} // namespace lowspot::gis
#endif
