#include "catch.hpp"

#include <cmath>
#include <fstream>

#include <lowspot/base/error.hpp>
#include <lowspot/base/limits.hpp>
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

TEST_CASE("a raster in one piece that would be unpacked whole is refused before it is", "[raster]") {
  register_drivers();
  const std::filesystem::path path = scratch("one_piece.tif");
  {
    const char* const sparse[] = {"SPARSE_OK=TRUE", "BLOCKYSIZE=10000", "COMPRESS=DEFLATE", nullptr};
    GDALDriver* driver = GetGDALDriverManager()->GetDriverByName("GTiff");
    DatasetPtr out(driver->Create(path.c_str(), 10000, 10000, 1, GDT_Float32, const_cast<char**>(sparse)));
    double place[] = {0, 1, 0, 10000, 0, -1};
    out->SetGeoTransform(place);
  }
  RasterRequest request;
  request.window = Box{{100, 100}, {200, 150}};
  CHECK_THAT(problem(path, request), ContainsSubstring("0.4 GB"));
}

TEST_CASE("a raster of more bands than any survey has is refused by their number", "[raster]") {
  GeoTiff tiff;
  tiff.nx = tiff.ny = 3;
  tiff.bands = limits::raster_bands + 1;
  CHECK_THAT(problem(tiff.write("bands.tif")), ContainsSubstring("a raster of 257 bands"));
  tiff.bands = limits::raster_bands;
  CHECK(problem(tiff.write("bands.tif")).empty());
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
  tiff.place.clear();
  CHECK_THAT(problem(tiff.write("placeless.tif")), ContainsSubstring("where it lies"));
  GeoTiff picture;
  picture.type = GDT_Byte;
  picture.bands = 3;
  picture.height = [](double, double) { return 7; };
  CHECK_THAT(problem(picture.write("picture.tif")), ContainsSubstring("a picture"));
  GeoTiff colours;
  colours.type = GDT_Byte;
  colours.palette = true;
  colours.height = [](double, double) { return 3; };
  CHECK_THAT(problem(colours.write("palette.tif")), ContainsSubstring("a picture"));
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

TEST_CASE("a raster that is turned is read where its cells lie", "[raster]") {
  // Heights on a plane: bilinear is exact, so that each sample can be checked where it came to lie.
  const double angle = GENERATE(0.3, 1.2, 2.5, -0.7);
  GeoTiff tiff;
  tiff.nx = tiff.ny = 60;
  tiff.type = GDT_Float64;
  const double c = 0.5 * std::cos(angle), s = 0.5 * std::sin(angle);
  tiff.place = {1000, c, s, 2000, s, -c};
  const auto path = tiff.write("turned.tif");
  const double mx = 1000 + 30 * c + 30 * s, my = 2000 + 30 * s - 30 * c;
  RasterRequest request;
  request.window = Box{{mx - 5, my - 5}, {mx + 5, my + 5}};
  const Raster raster = read_raster(path, request);
  CHECK(raster.nx < 40);
  double worst = 0;
  int known = 0;
  for (int j = 0; j < raster.ny; ++j)
    for (int i = 0; i < raster.nx; ++i) {
      if (std::isnan(raster.at(i, j))) continue;
      ++known;
      const double x = raster.x0 + (i + 0.5) * raster.dx, y = raster.y0 + (j + 0.5) * raster.dy;
      worst = std::max(worst, std::abs(raster.at(i, j) - tiff.height(x, y)));
    }
  CHECK(known > 20 * 20);
  CHECK(worst < 0.02); // samples are placed to an eighth of a cell, on a slope of 0.22
  request.window = Box{{mx + 500, my}, {mx + 510, my + 10}};
  CHECK_THAT(problem(path, request), ContainsSubstring("misses the yard"));
}

TEST_CASE("a raster with south up keeps its very values", "[raster]") {
  GeoTiff tiff;
  tiff.type = GDT_Float64;
  tiff.place = {100, 0.5, 0, 197, 0, 0.5};
  tiff.nodata = -5;
  tiff.height = [](double x, double y) { return x > 103.4 ? -5 : 10 + 0.1 * x * y; };
  const Raster raster = read_raster(tiff.write("southup.tif"));
  REQUIRE(raster.nx == 8);
  REQUIRE(raster.ny == 6);
  CHECK(raster.y0 == 197);
  for (int j = 0; j < raster.ny; ++j)
    for (int i = 0; i < raster.nx; ++i) {
      const double x = 100 + (i + 0.5) * 0.5, y = 197 + (j + 0.5) * 0.5;
      if (x > 103.4)
        CHECK(std::isnan(raster.at(i, j)));
      else
        CHECK_THAT(raster.at(i, j), WithinAbs(tiff.height(x, y), 1e-9));
    }
}

TEST_CASE("NaN as no data, a mask of its own, and several bands", "[raster]") {
  GeoTiff tiff;
  tiff.nodata = std::nan("");
  tiff.height = [](double x, double) { return x > 102 ? std::nan("") : 4.5; };
  Raster raster = read_raster(tiff.write("nan.tif"));
  CHECK(raster.at(0, 0) == 4.5);
  CHECK(std::isnan(raster.at(7, 0)));
  GeoTiff masked;
  masked.masked_east_of = 102;
  raster = read_raster(masked.write("masked.tif"));
  CHECK_FALSE(std::isnan(raster.at(0, 0)));
  CHECK(std::isnan(raster.at(7, 0)));
  GeoTiff two;
  two.bands = 2;
  raster = read_raster(two.write("two.tif"));
  REQUIRE(raster.warnings.size() == 1);
  CHECK_THAT(raster.warnings[0], ContainsSubstring("2 bands"));
}

TEST_CASE("a raster that covers the window in part gives what it has", "[raster]") {
  GeoTiff tiff;
  RasterRequest request;
  request.window = Box{{102, 199}, {120, 240}};
  const Raster raster = read_raster(tiff.write("part.tif"), request);
  CHECK(raster.x0 + raster.nx * raster.dx == 104);
  CHECK(raster.y0 + raster.ny * raster.dy == 200);
}
#endif
