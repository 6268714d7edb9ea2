// Writes small rasters for the tests, through the raster library itself.
#pragma once
#ifdef LOWSPOT_WITH_GDAL
#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include <cpl_conv.h>
#include <lowspot/gis/gdal_session.hpp>
#include <ogr_spatialref.h>

namespace lowspot::gis {

inline std::filesystem::path scratch(const std::string& name) {
  const std::filesystem::path folder = std::filesystem::temp_directory_path() / "lowspot_gis_test";
  std::filesystem::create_directories(folder);
  return folder / name;
}

struct GeoTiff {
  int nx = 8, ny = 6;
  std::vector<double> place = {100, 0.5, 0, 200, 0, -0.5}; // west, dx, -, north, -, -dy
  std::string crs;
  std::optional<double> nodata;
  std::optional<double> scale, offset;
  std::string unit;
  GDALDataType type = GDT_Float32;
  int bands = 1;
  bool palette = false;
  std::optional<double> masked_east_of; // a mask band of its own, empty there
  std::function<double(double, double)> height = [](double x, double y) { return 10 + 0.1 * x - 0.2 * y; };

  // Stores height(x, y) at the centres of the cells.
  std::filesystem::path write(const std::string& name) const {
    register_drivers();
    const std::filesystem::path path = scratch(name);
    GDALDriver* driver = GetGDALDriverManager()->GetDriverByName("GTiff");
    DatasetPtr out(driver->Create(path.c_str(), nx, ny, bands, type, nullptr));
    if (!place.empty()) out->SetGeoTransform(const_cast<double*>(place.data()));
    if (!crs.empty()) {
      OGRSpatialReference reference;
      reference.SetFromUserInput(crs.c_str());
      out->SetSpatialRef(&reference);
    }
    std::vector<double> row(nx);
    if (palette) {
      GDALColorTable colours;
      const GDALColorEntry grey{128, 128, 128, 255};
      colours.SetColorEntry(3, &grey);
      out->GetRasterBand(1)->SetColorTable(&colours);
    }
    for (int b = 1; b <= bands; ++b) {
      GDALRasterBand* band = out->GetRasterBand(b);
      if (nodata) band->SetNoDataValue(*nodata);
      if (scale) band->SetScale(*scale);
      if (offset) band->SetOffset(*offset);
      if (!unit.empty()) band->SetUnitType(unit.c_str());
      for (int j = 0; j < ny; ++j) {
        for (int i = 0; i < nx; ++i) {
          const double x = place.empty() ? i : place[0] + (i + 0.5) * place[1] + (j + 0.5) * place[2];
          const double y = place.empty() ? j : place[3] + (i + 0.5) * place[4] + (j + 0.5) * place[5];
          row[i] = height(x, y);
        }
        if (band->RasterIO(GF_Write, 0, j, nx, 1, row.data(), nx, 1, GDT_Float64, 0, 0, nullptr) != CE_None)
          throw std::runtime_error("cannot write the test raster");
      }
    }
    if (masked_east_of) write_mask(*out);
    return path;
  }

private:
  void write_mask(GDALDataset& out) const {
    CPLSetConfigOption("GDAL_TIFF_INTERNAL_MASK", "YES");
    out.CreateMaskBand(GMF_PER_DATASET);
    std::vector<double> row(nx);
    for (int j = 0; j < ny; ++j) {
      for (int i = 0; i < nx; ++i) row[i] = place[0] + (i + 0.5) * place[1] > *masked_east_of ? 0 : 255;
      if (out.GetRasterBand(1)->GetMaskBand()->RasterIO(GF_Write, 0, j, nx, 1, row.data(), nx, 1, GDT_Float64,
                                                        0, 0, nullptr) != CE_None)
        throw std::runtime_error("cannot write the mask");
    }
  }
};

} // namespace lowspot::gis
#endif
