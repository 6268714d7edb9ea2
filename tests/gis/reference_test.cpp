#include "catch.hpp"

#include <cmath>

#include <lowspot/base/error.hpp>
#include <lowspot/gis/raster.hpp>

#include "geotiff.hpp"

using namespace lowspot;
using namespace lowspot::gis;

#ifdef LOWSPOT_WITH_GDAL
#include <lowspot/gis/reference.hpp>

TEST_CASE("units come from the band, then from the vertical part of the system", "[reference]") {
  GeoTiff tiff;
  tiff.unit = "ft";
  CHECK(read_raster(tiff.write("unit_ft.tif")).metres_per_vertical_unit == 0.3048);
  tiff.unit = "furlong";
  const Raster odd = read_raster(tiff.write("unit_odd.tif"));
  CHECK(std::isnan(odd.metres_per_vertical_unit));
  REQUIRE(odd.warnings.size() == 1);
  CHECK_THAT(odd.warnings[0], ContainsSubstring("raster_units"));
  constexpr double survey = 1200.0 / 3937;
  for (const auto& [text, metres] : {std::pair{"US_survey_foot", survey},
                                     {"ft_us", survey},
                                     {"[ft_us]", survey},
                                     {"feet (US)", survey},
                                     {"us-ft", survey},
                                     {"survey feet", survey},
                                     {"International foot", 0.3048},
                                     {"Feet", 0.3048},
                                     {"metres above sea level", 1.0},
                                     {"m", 1.0},
                                     {"Centimetres", 0.01}}) {
    tiff.unit = text;
    const Raster raster = read_raster(tiff.write("unit_text.tif"));
    CAPTURE(tiff.unit);
    CHECK(raster.metres_per_vertical_unit == metres);
    CHECK(raster.warnings.empty());
  }
  tiff.unit = "hands \xC3\xA9 and \xFF";
  REQUIRE(read_raster(tiff.write("unit_text.tif")).warnings.size() == 1);
  CHECK_THAT(read_raster(tiff.write("unit_text.tif")).warnings[0], ContainsSubstring("\"hands ?? and ?\""));
  for (const char* text : {"feet or metres", "fathoms", "us"}) {
    tiff.unit = text;
    CHECK(std::isnan(read_raster(tiff.write("unit_text.tif")).metres_per_vertical_unit));
  }
  tiff.unit.clear();
  tiff.crs = "EPSG:26917+6360"; // heights in US survey feet
  CHECK_THAT(read_raster(tiff.write("unit_compound.tif")).metres_per_vertical_unit,
             WithinAbs(1200.0 / 3937.0, 1e-12));
}

TEST_CASE("the plane unit is that of the projected system", "[reference]") {
  GeoTiff tiff;
  tiff.crs = "EPSG:6549"; // US survey feet
  const Raster raster = read_raster(tiff.write("plane_ft.tif"));
  CHECK_THAT(raster.metres_per_horizontal_unit, WithinAbs(1200.0 / 3937.0, 1e-12));
  CHECK_FALSE(raster.crs.empty());
  tiff.crs.clear();
  CHECK(std::isnan(read_raster(tiff.write("plane_none.tif")).metres_per_horizontal_unit));
}

TEST_CASE("the unit of a named system; degrees are none for a yard", "[reference]") {
  CHECK(metres_per_unit("EPSG:26917", "site.toml") == 1);
  CHECK_THAT(metres_per_unit("EPSG:6549", "site.toml"), WithinAbs(1200.0 / 3937.0, 1e-12));
  CHECK_THROWS_WITH(metres_per_unit("EPSG:4326", "site.toml"), ContainsSubstring("degrees"));
  CHECK_THROWS_AS(metres_per_unit("nowhere", "site.toml"), InputError);
}

TEST_CASE("a system is named by code or text, never by a file or an address", "[reference]") {
  CHECK(reference_named("EPSG:28992", "site.toml").IsProjected());
  CHECK_THROWS_AS(reference_named("nowhere", "site.toml"), InputError);
  CHECK_THROWS_AS(reference_named("http://127.0.0.1/x", "site.toml"), InputError);
  CHECK_THROWS_AS(reference_named("/etc/hostname", "site.toml"), InputError);
}
#endif
