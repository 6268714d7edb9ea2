#include <lowspot/gis/write_raster.hpp>

#include <cmath>
#include <stdexcept>

#include <lowspot/base/error.hpp>
#include <lowspot/gis/gdal_session.hpp>
#include <lowspot/gis/reference.hpp>

#ifdef LOWSPOT_WITH_GDAL
#include <cpl_conv.h>
#endif

namespace lowspot::gis {

#ifndef LOWSPOT_WITH_GDAL

void write_geotiff(const std::filesystem::path& path, const RasterMap&, const std::string&) {
  throw InputError({path.string(), 0, ""}, "a map file, and this build writes none", "no --gis",
                   "build the program with LOWSPOT_GIS=ON.");
}
std::string well_known_text(const std::string&, const std::string&) {
  return "";
}

#else
namespace {
constexpr double no_value = -9999;
}

void write_geotiff(const std::filesystem::path& path, const RasterMap& map, const std::string& crs) {
  if (map.nx < 1 || map.ny < 1 || map.values.size() != static_cast<std::size_t>(map.nx) * map.ny)
    throw std::invalid_argument("a map that does not fit its size");
  register_drivers();
  const ErrorCatcher errors;
  GDALDriver* driver = GetGDALDriverManager()->GetDriverByName("GTiff");
  const char* const options[] = {"COMPRESS=DEFLATE", "PREDICTOR=3", nullptr};
  DatasetPtr dataset(
      driver->Create(path.c_str(), map.nx, map.ny, 1, GDT_Float32, const_cast<char**>(options)));
  bool good = dataset != nullptr;
  if (good) {
    double place[6] = {map.x0, map.cell, 0, map.y0 + map.ny * map.cell, 0, -map.cell};
    good = dataset->SetGeoTransform(place) == CE_None;
    if (!crs.empty()) {
      const OGRSpatialReference reference = reference_named(crs, path.string());
      good = dataset->SetSpatialRef(&reference) == CE_None && good;
    }
    GDALRasterBand* band = dataset->GetRasterBand(1);
    band->SetNoDataValue(no_value);
    band->SetDescription(map.name.c_str());
    band->SetUnitType(map.unit.c_str());
    std::vector<float> row(static_cast<std::size_t>(map.nx));
    for (int j = 0; j < map.ny && good; ++j) { // the file begins in the north
      for (int i = 0; i < map.nx; ++i) {
        const double value = map.values[static_cast<std::size_t>(map.ny - 1 - j) * map.nx + i];
        row[static_cast<std::size_t>(i)] = static_cast<float>(std::isfinite(value) ? value : no_value);
      }
      good = band->RasterIO(GF_Write, 0, j, map.nx, 1, row.data(), map.nx, 1, GDT_Float32, 0, 0, nullptr) ==
             CE_None;
    }
  }
  dataset.reset();
  if (!good || !errors.message().empty())
    throw InputError({path.string(), 0, ""},
                     "that it cannot be written" +
                         (errors.message().empty() ? std::string() : " (" + errors.message() + ")"),
                     "a place to write to", "check the folder, the permissions and the free space.");
}

std::string well_known_text(const std::string& crs, const std::string& file) {
  if (crs.empty()) return "";
  const OGRSpatialReference reference = reference_named(crs, file);
  char* text = nullptr;
  std::string result;
  if (reference.exportToWkt(&text) == OGRERR_NONE && text) result = text;
  CPLFree(text);
  return result;
}

#endif

} // namespace lowspot::gis
