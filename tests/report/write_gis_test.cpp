#include "catch.hpp"

#include <fstream>

#include <lowspot/base/error.hpp>
#include <lowspot/report/write_gis.hpp>
#include <lowspot/results/output_folder.hpp>

#include "report/picture.hpp"
#include "results/scratch_folder.hpp"

using namespace lowspot::report;

TEST_CASE("every design leaves its maps, every area and run its shape; old ones go") {
  const ScratchFolder scratch;
  sample::PageMaker maker;
  maker.site.unit = 0.3048;
  std::filesystem::create_directories(scratch.path / "gis");
  lowspot::results::write_whole_file(scratch.path / "gis" / "max_depth_gone.tif", "old");
  try {
    write_gis(maker.site, maker.comparison, scratch.path);
  } catch (const lowspot::InputError& error) {
    INFO(error.what()); // a build without map files says so
    CHECK_THAT(error.mend, ContainsSubstring("LOWSPOT_GIS=ON"));
    return;
  }
  for (const char* name : {"ground_elevation.tif", "standing_hours_as_is.tif",
                           "max_depth_d_3_in_along_the_patio.tif", "perched_max_as_is.tif", "areas.geojson",
                           "buildings.geojson", "runs.geojson", "outlets.geojson", "low_spots.geojson"}) {
    INFO(name);
    CHECK(std::filesystem::exists(scratch.path / "gis" / name));
  }
  CHECK_FALSE(std::filesystem::exists(scratch.path / "gis" / "max_depth_gone.tif"));
  std::ifstream file(scratch.path / "gis" / "runs.geojson");
  const std::string runs{std::istreambuf_iterator<char>(file), {}};
  CHECK_THAT(runs, ContainsSubstring("west leg"));
  CHECK_THAT(runs, ContainsSubstring("[ 24.0, 16.0 ]")); // in the site's feet
}
