#include <lowspot/site/readers.hpp>

#include "sample.hpp"

using namespace sample;

namespace {
const std::string head = "[site]\nunits = \"ft\"\nrectangle = [0, 0, 60, 40]\n";
}

TEST_CASE("levels, raster and breaklines are read together") {
  const Folder folder;
  folder.write("lidar.tif", "not looked into here");
  const auto site = read(
      head + "[ground]\nraster = \"lidar.tif\"\nraster_units = \"us survey ft\"\nlevels = \"levels.csv\"\n"
             "levels_units = \"m\"\nbreaklines = [[[0, 30, 100.2], [34, 30, 100.1]]]",
      folder);
  CHECK(site.ground.raster == "lidar.tif");
  CHECK(site.ground.raster_unit == Approx(0.3048006096).epsilon(1e-9));
  CHECK(site.ground.levels_unit == 1);
  CHECK(site.ground.levels_line == 7);
  REQUIRE(site.ground.breaklines.size() == 1);
  CHECK(site.ground.breaklines[0][1].z == Approx(100.1 * 0.3048));
}

TEST_CASE("ground without ground, and files that are not there") {
  CHECK(error_of(head).found == "no [ground] table");
  CHECK_THAT(error_of(head + "[ground]\n").found, ContainsSubstring("without ground"));
  const auto error = error_of(head + "[ground]\nlevels = \"level.csv\"");
  CHECK(error.where.line == 5);
  CHECK(error.where.key == "ground.levels");
  CHECK_THAT(error.mend, ContainsSubstring("levels.csv"));
  CHECK_THAT(error_of(head + "[ground]\nlevels = \"levels.csv\"\nlevels_units = \"yards\"").expected,
             ContainsSubstring("us survey ft"));
  CHECK_THAT(error_of(head + "[ground]\nlevel = \"levels.csv\"").mend, ContainsSubstring("`levels`"));
}
