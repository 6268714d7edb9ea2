#include "catch.hpp"

#include <cmath>

#include <lowspot/base/error.hpp>
#include <lowspot/gis/masked_copy.hpp>
#include <lowspot/gis/raster.hpp>

#include "geotiff.hpp"

using namespace lowspot;
using namespace lowspot::gis;

#ifdef LOWSPOT_WITH_GDAL

TEST_CASE("a part of a raster keeps its place and values, and has holes where nothing stands",
          "[masked_copy]") {
  GeoTiff tiff;
  tiff.nx = tiff.ny = 10;
  tiff.place = {100, 2, 0, 200, 0, -2};
  tiff.height = [](double x, double y) { return x < 107 ? -9999 : y > 189 ? 3.4028234663852886e38 : x + y; };
  const auto path = tiff.write("part.tif");
  const ErrorCatcher errors;
  DatasetPtr dataset(GDALDataset::Open(path.c_str(), GDAL_OF_RASTER | GDAL_OF_READONLY));
  REQUIRE(dataset);
  std::vector<std::string> warnings;
  const DatasetPtr copy = masked_copy(*dataset, {2, 4, 5, 3}, "part.tif", errors, warnings);
  double gt[6];
  REQUIRE(copy->GetGeoTransform(gt) == CE_None);
  CHECK(gt[0] == 104);
  CHECK(gt[3] == 192);
  double z[15];
  REQUIRE(copy->GetRasterBand(1)->RasterIO(GF_Read, 0, 0, 5, 3, z, 5, 3, GDT_Float64, 0, 0, nullptr) ==
          CE_None);
  for (int j = 0; j < 3; ++j)
    for (int i = 0; i < 5; ++i) {
      const double x = 105 + 2 * i, y = 191 - 2 * j;
      INFO(x << " " << y);
      if (x < 107 || y > 189)
        CHECK(std::isnan(z[5 * j + i]));
      else
        CHECK(z[5 * j + i] == x + y);
    }
  REQUIRE(warnings.size() == 1);
  CHECK_THAT(warnings[0], ContainsSubstring("3 cells lie below -9000"));
}

TEST_CASE("fillers are told from heights", "[masked_copy]") {
  CHECK(is_filler(3.4e38));
  CHECK(is_filler(std::nan("")));
  CHECK_FALSE(is_filler(-9999));
  CHECK_FALSE(is_filler(250));
}
#endif
