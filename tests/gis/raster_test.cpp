#include "catch.hpp"

#include <cmath>
#include <fstream>

#include <lowspot/base/error.hpp>
#include <lowspot/gis/raster.hpp>

#include "geotiff.hpp"

using namespace lowspot;
using namespace lowspot::gis;

#ifndef LOWSPOT_WITH_GDAL
TEST_CASE("a build without the raster library says so", "[raster]") {
  REQUIRE_THROWS_WITH(read_raster("any.tif"), ContainsSubstring("reads no rasters"));
}
#else

namespace {
std::string problem(const std::filesystem::path& path, const RasterRequest& request = {}) {
  try {
    read_raster(path, request);
  } catch (const InputError& error) {
    return error.what();
  }
  return "";
}
} // namespace

TEST_CASE("a GeoTIFF comes back with its heights, southern row first", "[raster]") {
  GeoTiff tiff;
  tiff.type = GDT_Float64;
  const Raster raster = read_raster(tiff.write("plain.tif"));
  REQUIRE(raster.nx == 8);
  REQUIRE(raster.ny == 6);
  CHECK(raster.x0 == 100);
  CHECK(raster.y0 == 197);
  CHECK(raster.dx == 0.5);
  CHECK(raster.dy == 0.5);
  CHECK(raster.crs.empty());
  CHECK(std::isnan(raster.metres_per_vertical_unit));
  CHECK(raster.warnings.empty());
  for (int j = 0; j < raster.ny; ++j)
    for (int i = 0; i < raster.nx; ++i)
      CHECK(raster.at(i, j) == tiff.height(100 + (i + 0.5) * 0.5, 197 + (j + 0.5) * 0.5));
}

TEST_CASE("cells of different length and width keep their shape", "[raster]") {
  GeoTiff tiff;
  tiff.place = {100, 0.5, 0, 200, 0, -0.25};
  const Raster raster = read_raster(tiff.write("oblong.tif"));
  CHECK(raster.dx == 0.5);
  CHECK(raster.dy == 0.25);
  CHECK(raster.y0 == 198.5);
}

TEST_CASE("no data is a hole, declared or not, and never a height", "[raster]") {
  const double filler = GENERATE(3.4028234663852886e38, -9999.0, -32768.0, 0.0);
  const bool declared = GENERATE(true, false);
  if (!declared && filler == 0) return; // nothing tells an undeclared zero from a height
  GeoTiff tiff;
  if (declared) tiff.nodata = filler;
  if (!declared && filler == -9999) tiff.nodata.reset();
  tiff.height = [filler](double x, double) { return x > 102 ? filler : 5.25; };
  const Raster raster = read_raster(tiff.write("holes.tif"));
  int holes = 0;
  for (double z : raster.z) {
    if (std::isnan(z))
      ++holes;
    else
      CHECK(z == 5.25);
  }
  CHECK(holes == 4 * 6);
}

TEST_CASE("scale, offset and unit of a band are honoured", "[raster]") {
  GeoTiff tiff;
  tiff.type = GDT_Int16;
  tiff.scale = 0.01;
  tiff.offset = 50;
  tiff.unit = "US survey foot";
  tiff.height = [](double, double) { return 1234; };
  const Raster raster = read_raster(tiff.write("scaled.tif"));
  CHECK_THAT(raster.z.front(), WithinAbs(62.34, 1e-12));
  CHECK_THAT(raster.metres_per_vertical_unit, WithinAbs(1200.0 / 3937.0, 1e-15));
}

TEST_CASE("only the window asked for is read, with a rim of two cells", "[raster]") {
  GeoTiff tiff;
  tiff.nx = 400;
  tiff.ny = 300;
  tiff.type = GDT_Float64;
  RasterRequest request;
  request.window = Box{{150, 100}, {160, 105}};
  const Raster raster = read_raster(tiff.write("wide.tif"), request);
  CHECK(raster.nx == 20 + 4);
  CHECK(raster.ny == 10 + 4);
  CHECK(raster.x0 == 149);
  CHECK(raster.y0 == 99);
  CHECK_THAT(raster.at(2, 2), WithinAbs(tiff.height(150.25, 100.25), 1e-12));
  request.window = Box{{1500, 100}, {1600, 105}};
  CHECK_THAT(problem(scratch("wide.tif"), request), ContainsSubstring("misses the yard"));
}

TEST_CASE("a raster too large for memory is refused before it is read", "[raster]") {
  register_drivers();
  const std::filesystem::path path = scratch("huge.tif");
  {
    const char* const sparse[] = {"SPARSE_OK=TRUE", "TILED=YES", nullptr};
    GDALDriver* driver = GetGDALDriverManager()->GetDriverByName("GTiff");
    DatasetPtr out(driver->Create(path.c_str(), 20000, 20000, 1, GDT_Float32, const_cast<char**>(sparse)));
    double place[] = {0, 1, 0, 20000, 0, -1};
    out->SetGeoTransform(place);
  }
  CHECK_THAT(problem(path), ContainsSubstring("GB"));
  RasterRequest request;
  request.window = Box{{100, 100}, {200, 150}};
  CHECK(read_raster(path, request).nx == 104);
}

TEST_CASE("files that are no heights are refused with a reason", "[raster]") {
  CHECK_THAT(problem(scratch("absent.tif")), ContainsSubstring("no such file"));
  {
    std::ofstream(scratch("junk.tif")) << "II*this is no raster at all";
    std::ofstream(scratch("empty.tif"));
    std::ofstream(scratch("table.csv")) << "x,y,z\n1,2,3\n";
    std::ofstream(scratch("trap.vrt")) << "<VRTDataset rasterXSize=\"2\" rasterYSize=\"2\"></VRTDataset>";
  }
  CHECK_THAT(problem(scratch("junk.tif")), ContainsSubstring("no GeoTIFF"));
  CHECK_THAT(problem(scratch("empty.tif")), ContainsSubstring("no GeoTIFF"));
  CHECK_THAT(problem(scratch("table.csv")), ContainsSubstring("no GeoTIFF"));
  CHECK_THAT(problem(scratch("trap.vrt")), ContainsSubstring("no GeoTIFF"));
  CHECK_THAT(problem(scratch("")), ContainsSubstring("no GeoTIFF"));

  GeoTiff tiff;
  tiff.place = {100, 0.5, 0.1, 200, 0.1, -0.5};
  CHECK_THAT(problem(tiff.write("turned.tif")), ContainsSubstring("turned"));
  tiff.place = {100, 0.5, 0, 200, 0, 0.5};
  CHECK_THAT(problem(tiff.write("southup.tif")), ContainsSubstring("upside down"));
  tiff.place.clear();
  CHECK_THAT(problem(tiff.write("placeless.tif")), ContainsSubstring("where it lies"));
  GeoTiff picture;
  picture.type = GDT_Byte;
  picture.bands = 3;
  picture.height = [](double, double) { return 7; };
  CHECK_THAT(problem(picture.write("picture.tif")), ContainsSubstring("a picture"));
}

TEST_CASE("a file cut short is an error and not a ground of zeros", "[raster]") {
  GeoTiff tiff;
  tiff.nx = tiff.ny = 200;
  const std::filesystem::path path = tiff.write("short.tif");
  std::filesystem::resize_file(path, std::filesystem::file_size(path) / 2);
  CHECK_FALSE(problem(path).empty());
}

TEST_CASE("an ASCII grid is read as well", "[raster]") {
  std::ofstream(scratch("grid.asc")) << "ncols 3\nnrows 2\nxllcorner 10\nyllcorner 20\ncellsize 2\n"
                                        "NODATA_value -9999\n4 5 6\n1 2 -9999\n";
  const Raster raster = read_raster(scratch("grid.asc"));
  CHECK(raster.x0 == 10);
  CHECK(raster.y0 == 20);
  CHECK(raster.at(0, 0) == 1);
  CHECK(raster.at(2, 1) == 6);
  CHECK(std::isnan(raster.at(2, 0)));
}
#endif
