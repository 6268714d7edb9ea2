#include "catch.hpp"

#include <cmath>
#include <stdexcept>

#include <lowspot/base/error.hpp>
#include <lowspot/gis/raster.hpp>
#include <lowspot/gis/write_raster.hpp>

using namespace lowspot;
using namespace lowspot::gis;

#ifdef LOWSPOT_WITH_GDAL
TEST_CASE("a map written is read back cell for cell, in its place and system") {
  const auto path =
      std::filesystem::temp_directory_path() / ("lowspot_map_" + std::to_string(getpid()) + ".tif");
  RasterMap map{5, 3, 1000, 2000, 0.5, {}, "depth", "m"};
  for (int cell = 0; cell < 15; ++cell) map.values.push_back(0.25 * cell);
  map.values[7] = std::nan("");
  write_geotiff(path, map, "EPSG:6549");
  const Raster back = read_raster(path);
  REQUIRE(back.nx == 5);
  REQUIRE(back.ny == 3);
  CHECK(back.x0 == Approx(1000));
  CHECK(back.y0 == Approx(2000));
  CHECK(back.dx == Approx(0.5));
  CHECK_THAT(back.crs, ContainsSubstring("6549"));
  for (std::size_t cell = 0; cell < 15; ++cell)
    CHECK((cell == 7 ? std::isnan(back.z[cell]) : back.z[cell] == map.values[cell]));
  std::filesystem::remove(path);
  map.values.pop_back();
  CHECK_THROWS_AS(write_geotiff(path, map, ""), std::invalid_argument);
}

TEST_CASE("a system by name becomes its text") {
  CHECK(well_known_text("", "site.toml").empty());
  CHECK_THAT(well_known_text("EPSG:6549", "site.toml"), ContainsSubstring("PROJCS"));
  CHECK_THROWS_WITH(well_known_text("EPSG:0", "site.toml"), ContainsSubstring("site.toml"));
}
#endif
