#include "catch.hpp"

#include <cmath>

#include <lowspot/base/error.hpp>
#include <lowspot/gis/raster.hpp>

#include "geotiff.hpp"

using namespace lowspot;
using namespace lowspot::gis;

#ifdef LOWSPOT_WITH_GDAL

TEST_CASE("a raster in another system is warped to the site's", "[warp]") {
  // Zone 17 written, zone 16 asked for; the height is linear in the northing of zone 17, so that the warped
  // raster can be checked with the conversion of single points.
  GeoTiff tiff;
  tiff.nx = tiff.ny = 200;
  tiff.type = GDT_Float64;
  tiff.crs = "EPSG:26917";
  tiff.place = {300000, 1, 0, 4500000, 0, -1};
  tiff.height = [](double x, double y) { return 0.01 * (x - 300000) + 0.02 * (y - 4500000); };
  const auto path = tiff.write("zone17.tif");

  OGRSpatialReference from, to;
  from.SetFromUserInput("EPSG:26917");
  to.SetFromUserInput("EPSG:26916");
  from.SetAxisMappingStrategy(OAMS_TRADITIONAL_GIS_ORDER);
  to.SetAxisMappingStrategy(OAMS_TRADITIONAL_GIS_ORDER);
  auto forward = std::unique_ptr<OGRCoordinateTransformation>(OGRCreateCoordinateTransformation(&from, &to));
  auto back = std::unique_ptr<OGRCoordinateTransformation>(OGRCreateCoordinateTransformation(&to, &from));
  double x = 300100, y = 4499900;
  REQUIRE(forward->Transform(1, &x, &y));

  RasterRequest request;
  request.crs = "EPSG:26916";
  request.window = Box{{x - 20, y - 15}, {x + 20, y + 15}};
  const Raster raster = read_raster(path, request);
  CHECK(raster.warnings.empty());
  CHECK(raster.nx < 70);
  CHECK(raster.metres_per_horizontal_unit == 1);
  double worst = 0;
  for (int j = 0; j < raster.ny; ++j)
    for (int i = 0; i < raster.nx; ++i) {
      double px = raster.x0 + (i + 0.5) * raster.dx, py = raster.y0 + (j + 0.5) * raster.dy;
      REQUIRE(back->Transform(1, &px, &py));
      REQUIRE_FALSE(std::isnan(raster.at(i, j)));
      worst = std::max(worst, std::abs(raster.at(i, j) - tiff.height(px, py)));
    }
  // Bilinear is exact on a plane; the library places samples to a hundredth of a cell, 0.00022 on this slope.
  CHECK(worst < 0.0003);
}

TEST_CASE("on a slope the ground beside a hole of a turned raster is not off", "[warp]") {
  GeoTiff tiff;
  tiff.nx = 60, tiff.ny = 60;
  tiff.type = GDT_Float64;
  tiff.nodata = -9999;
  tiff.place = {1000, std::sqrt(0.75), 0.5, 2000, 0.5, -std::sqrt(0.75)}; // 1 m, turned by 30 degrees
  const Point middle{1000 + 30 * (tiff.place[1] + tiff.place[2]),
                     2000 + 30 * (tiff.place[4] + tiff.place[5])};
  const auto plane = [&](double x, double y) { return 0.1 * (x - middle.x) - 0.05 * (y - middle.y); };
  constexpr double radius = 5; // m: the centres of cells without data
  tiff.height = [&](double x, double y) {
    return std::hypot(x - middle.x, y - middle.y) < radius ? -9999 : plane(x, y);
  };
  RasterRequest request;
  request.window = Box{{middle.x - 12, middle.y - 12}, {middle.x + 12, middle.y + 12}};
  const Raster raster = read_raster(tiff.write("turned_hole.tif"), request);
  double worst = 0;
  for (int j = 0; j < raster.ny; ++j)
    for (int i = 0; i < raster.nx; ++i) {
      const double x = raster.x0 + (i + 0.5) * raster.dx, y = raster.y0 + (j + 0.5) * raster.dy;
      const double away = std::hypot(x - middle.x, y - middle.y);
      const bool hole = std::isnan(raster.at(i, j));
      // Four cells around a place lie within a diagonal of it.
      if (away < radius - std::sqrt(2.0)) CHECK(hole);
      if (away > radius + std::sqrt(2.0)) CHECK_FALSE(hole);
      if (!hole) worst = std::max(worst, std::abs(raster.at(i, j) - plane(x, y)));
    }
  CHECK(worst < 1e-9);
}

TEST_CASE("a plane on a raster that is turned or mirrored keeps its heights", "[warp]") {
  // Bilinear is exact on a plane, whichever way the cells lie and however oblong they are.
  for (const double degrees : {30.0, 71.0, 135.0, -100.0})
    for (const double oblong : {1.0, 1.7})
      for (const double down : {-1.0, 1.0}) {
        CAPTURE(degrees, oblong, down);
        const double turn = degrees * 3.14159265358979323846 / 180, dx = 0.8, dy = 0.8 * oblong * down;
        GeoTiff tiff;
        tiff.nx = 90, tiff.ny = 60;
        tiff.type = GDT_Float64;
        tiff.place = {1000, dx * std::cos(turn), -dy * std::sin(turn),
                      2000, dx * std::sin(turn), dy * std::cos(turn)};
        tiff.height = [](double x, double y) { return 0.08 * (x - 1000) - 0.05 * (y - 2000); };
        const auto path = tiff.write("turned_plane.tif");
        const Point middle{1000 + 45 * tiff.place[1] + 30 * tiff.place[2],
                           2000 + 45 * tiff.place[4] + 30 * tiff.place[5]};
        RasterRequest request;
        request.window = Box{{middle.x - 8, middle.y - 8}, {middle.x + 8, middle.y + 8}};
        const Raster raster = read_raster(path, request);
        double worst = 0;
        for (int j = 0; j < raster.ny; ++j)
          for (int i = 0; i < raster.nx; ++i) {
            const double x = raster.x0 + (i + 0.5) * raster.dx, y = raster.y0 + (j + 0.5) * raster.dy;
            REQUIRE_FALSE(std::isnan(raster.at(i, j)));
            worst = std::max(worst, std::abs(raster.at(i, j) - tiff.height(x, y)));
          }
        CHECK(worst < 1e-9); // m, of heights up to 5: rounding
      }
}

TEST_CASE("the same system under two spellings is not warped", "[warp]") {
  GeoTiff tiff;
  tiff.crs = "EPSG:28992";
  RasterRequest request;
  request.crs = "EPSG:28992";
  const Raster raster = read_raster(tiff.write("same.tif"), request);
  CHECK(raster.nx == 8);
  CHECK(raster.x0 == 100);
  CHECK(raster.warnings.empty());
}

TEST_CASE("what is not known of the systems is said", "[warp]") {
  GeoTiff tiff;
  RasterRequest request;
  request.crs = "EPSG:28992";
  Raster raster = read_raster(tiff.write("nameless.tif"), request);
  REQUIRE(raster.warnings.size() == 1);
  CHECK_THAT(raster.warnings[0], ContainsSubstring("names no coordinate system"));
  tiff.crs = "EPSG:28992";
  raster = read_raster(tiff.write("named.tif"));
  REQUIRE(raster.warnings.size() == 1);
  CHECK_THAT(raster.warnings[0], ContainsSubstring("the site none"));
}

TEST_CASE("systems that cannot be used are errors", "[warp]") {
  GeoTiff tiff;
  tiff.crs = "EPSG:4326";
  tiff.place = {4.0, 1e-5, 0, 52, 0, -1e-5};
  const auto path = tiff.write("degrees.tif");
  REQUIRE_THROWS_WITH(read_raster(path), ContainsSubstring("degrees"));
  RasterRequest request;
  request.crs = "EPSG:99999999";
  REQUIRE_THROWS_WITH(read_raster(path, request), ContainsSubstring("name of a coordinate system"));
  request.crs = "EPSG:28992";
  request.window = Box{{1e5, 1e5}, {1e5 + 10, 1e5 + 10}};
  REQUIRE_THROWS_WITH(read_raster(path, request), ContainsSubstring("misses the yard"));
}

TEST_CASE("holes stay holes through a warp and do not bleed into their neighbours", "[warp]") {
  const bool declared = GENERATE(true, false);
  const double filler = GENERATE(3.4028234663852886e38, -9999.0, -32768.0);
  GeoTiff tiff;
  tiff.nx = tiff.ny = 60;
  tiff.crs = "EPSG:26917";
  tiff.place = {500000, 1, 0, 4500000, 0, -1};
  if (declared) tiff.nodata = filler;
  tiff.height = [&](double x, double) { return x > 500020 && x < 500040 ? filler : 2.5; };
  RasterRequest request;
  request.crs = "EPSG:2958"; // the same zone on another realisation of the datum
  const Raster raster = read_raster(tiff.write("bleed.tif"), request);
  int holes = 0;
  for (double z : raster.z) {
    if (std::isnan(z))
      ++holes;
    else
      CHECK_THAT(z, WithinAbs(2.5, 1e-6));
  }
  CHECK(holes > 15 * 55);
  CHECK(raster.warnings.size() == (declared || filler > 0 ? 0 : 1));
}

TEST_CASE("a figure that the file does not declare as none is not mixed in where cells are turned",
          "[warp]") {
  GeoTiff tiff;
  tiff.nx = tiff.ny = 60;
  tiff.crs = "EPSG:26917";
  tiff.place = {500000, 1, 0, 4500000, 0, -1};
  tiff.height = [](double x, double) { return x > 500020 && x < 500040 ? -9999 : 2.5; };
  RasterRequest request;
  request.crs = "EPSG:26916"; // turned by some degrees
  const Raster raster = read_raster(tiff.write("turned_bleed.tif"), request);
  int holes = 0, heights = 0;
  for (const double z : raster.z) {
    if (std::isnan(z)) {
      ++holes;
      continue;
    }
    ++heights;
    CHECK_THAT(z, WithinAbs(2.5, 1e-6));
  }
  CHECK(holes > 1000);
  CHECK(heights > 1500);
  REQUIRE(raster.warnings.size() == 1);
  CHECK_THAT(raster.warnings[0], ContainsSubstring("below -9000"));
}
#endif
