#include <lowspot/gis/masked_copy.hpp>

#ifdef LOWSPOT_WITH_GDAL
#include <cmath>
#include <cstdint>
#include <limits>

#include <lowspot/base/error.hpp>

namespace lowspot::gis {

bool is_filler(double value) {
  return !std::isfinite(value) || std::abs(value) > 1e30;
}

std::string below_any_ground(const std::string& file, std::size_t cells) {
  return file + ": " + std::to_string(cells) + " cells lie below -9000 and are taken as having no data.";
}

DatasetPtr masked_copy(GDALDataset& dataset, const Pixels& pixels, const std::string& file,
                       const ErrorCatcher& errors, std::vector<std::string>& warnings) {
  constexpr double hole = std::numeric_limits<double>::quiet_NaN();
  GDALRasterBand* band = dataset.GetRasterBand(1);
  int has_scale = 0, has_offset = 0;
  double scale = band->GetScale(&has_scale), offset = band->GetOffset(&has_offset);
  if (!has_scale || scale == 0) scale = 1;
  if (!has_offset) offset = 0;
  const bool masked = (band->GetMaskFlags() & GMF_ALL_VALID) == 0;

  DatasetPtr copy(GetGDALDriverManager()->GetDriverByName("MEM")->Create("", pixels.columns, pixels.rows, 1,
                                                                         GDT_Float64, nullptr));
  double gt[6] = {0, 1, 0, 0, 0, 1};
  bool failed = !copy || dataset.GetGeoTransform(gt) != CE_None;
  if (!failed) {
    gt[0] += pixels.column * gt[1] + pixels.row * gt[2];
    gt[3] += pixels.column * gt[4] + pixels.row * gt[5];
    copy->SetGeoTransform(gt);
    if (const OGRSpatialReference* own = dataset.GetSpatialRef()) copy->SetSpatialRef(own);
    copy->GetRasterBand(1)->SetNoDataValue(hole);
  }
  std::vector<double> row(pixels.columns);
  std::vector<std::uint8_t> mask(masked ? pixels.columns : 0);
  std::size_t undeclared = 0;
  for (int j = 0; j < pixels.rows && !failed; ++j) {
    failed = band->RasterIO(GF_Read, pixels.column, pixels.row + j, pixels.columns, 1, row.data(),
                            pixels.columns, 1, GDT_Float64, 0, 0, nullptr) != CE_None;
    if (masked && !failed)
      failed =
          band->GetMaskBand()->RasterIO(GF_Read, pixels.column, pixels.row + j, pixels.columns, 1,
                                        mask.data(), pixels.columns, 1, GDT_Byte, 0, 0, nullptr) != CE_None;
    if (failed) break;
    for (int i = 0; i < pixels.columns; ++i) {
      if (is_filler(row[i]) || (masked && mask[i] == 0)) {
        row[i] = hole;
      } else if (row[i] * scale + offset < lowest_ground) {
        row[i] = hole;
        ++undeclared;
      }
    }
    failed = copy->GetRasterBand(1)->RasterIO(GF_Write, 0, j, pixels.columns, 1, row.data(), pixels.columns,
                                              1, GDT_Float64, 0, 0, nullptr) != CE_None;
  }
  if (failed)
    throw InputError({file, 0, ""}, "a raster that breaks off (" + errors.message() + ")", "a whole file",
                     "copy or download it again.");
  if (undeclared > 0) warnings.push_back(below_any_ground(file, undeclared));
  return copy;
}

} // namespace lowspot::gis
#endif
