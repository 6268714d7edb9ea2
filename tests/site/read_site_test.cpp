#include <lowspot/site/read_site.hpp>

#include "sample.hpp"

using namespace sample;

namespace {
// A site file with every table there is.
const char* const everything = R"toml([site]
name    = "Orchard Lane back yard"
units   = "ft"
outline = [[0, 0], [72, 0], [72, 54], [0, 54]]
cell    = "6 in"
north   = "0 deg"
[ground]
raster     = "lidar.tif"
levels     = "levels.csv"
breaklines = [[[10, 30, 100.2], [34, 30, 100.1]]]
[edges]
default = "open"
north   = "wall"
[[soil]]
name        = "yard"
topsoil     = { texture = "silt loam", depth = "7 in", conductivity = ["0.05 in/hr", "0.2 in/hr", "0.6 in/hr"] }
tight_layer = { conductivity = ["0.003 in/hr", "0.02 in/hr", "0.1 in/hr"] }
hole_test   = "holes.csv"
start       = "moist"
[[area]]
name    = "patio"
kind    = "concrete"
outline = [[10, 30], [34, 30], [34, 48], [10, 48]]
surface = [[10, 48, 100.60], [34, 48, 100.58], [22, 30, 100.20]]
[[area]]
name    = "long bed"
kind    = "mulched bed"
outline = [[10, 25], [40, 25], [40, 30], [10, 30]]
plants  = { kind = "shrubs", root_depth = "14 in", wet_feet = "moderate" }
[[building]]
name    = "house"
outline = [[8, 48], [46, 48], [46, 54], [8, 54]]
downspouts = [ { at = [9, 47], roof = "420 ft2", to = "ground" }, { at = [45, 47], roof = "380 ft2", to = "ground" } ]
[[wall]]
name = "raised edging"
line = [[40, 25], [40, 30]]
height = "4 in"
[storm]
depth    = "2.6 in"
duration = "6 hr"
pattern  = "nested"
dry      = "7 d"
reference_et = "0.18 in/d"
[target]
standing_depth = "0.25 in"
clear_within   = "24 hr"
areas          = ["patio", "long bed"]
beds           = { soggy_hours = "36 hr", dry_days = "no more than before" }
[[gauge]]
name = "bed corner"
at   = [24, 28]
[[line]]
name = "fence"
path = [[0, 2], [72, 2]]
[[design]]
name = "3 in along the patio"
[[design.run]]
name   = "west leg"
path   = [[12, 29], [24, 29]]
pipe   = "3 in corrugated, slotted"
trench = { width = "12 in", depth = "20 in" }
fall   = "1 in per 8 ft"
stone  = "No. 57, rounded, washed"
fabric = { kind = "nonwoven 6 oz", clogging = 1 }
cap    = { kind = "mulch over stone", depth = "2 in" }
to     = "tee"
[[design.fitting]]
name = "tee"
at   = [24, 29]
[[design.run]]
name = "carrier"
path = [[24, 29], [24, 0]]
pipe = "3 in corrugated, solid"
fall = "2 %"
from = "tee"
to   = "fence outlet"
[[design.outlet]]
name = "fence outlet"
kind = "daylight"
at   = [24, 0]
[tune]
design = "3 in along the patio"
vary   = { pipe = ["3 in corrugated, slotted", "4 in corrugated, slotted"], cap = ["sod"] }
)toml";
} // namespace

TEST_CASE("a site file with every table") {
  const Folder folder;
  folder.write("lidar.tif", "not looked into here");
  folder.write(
      "holes.csv",
      "hole,diameter_in,depth_in,time_min,water_depth_in,presoak\nA,6,20,0,8,yes\nA,6,20,60,7.5,yes\n");
  const auto site = read(everything, folder);
  CHECK(site.name == "Orchard Lane back yard");
  CHECK(site.folder == folder.path);
  CHECK(site.cell == Approx(0.1524));
  CHECK(site.soils.at(0).conductivity.low == Approx(0.05 * 0.0254 / 3600));
  CHECK(site.soils.at(0).tight_conductivity.high == Approx(0.1 * 0.0254 / 3600));
  REQUIRE(site.areas.size() == 2);
  CHECK(site.areas[1].plants->root_depth == Approx(14 * 0.0254));
  CHECK(site.buildings.at(0).downspouts.size() == 2);
  CHECK(site.storm.reference_et == Approx(0.18 * 0.0254 / 86400));
  REQUIRE(site.designs.size() == 1);
  const auto& design = site.designs[0];
  REQUIRE(design.runs.size() == 2);
  CHECK(design.runs[0].trench_depth == Approx(20 * 0.0254));
  CHECK(design.runs[0].fall == Approx(1.0 / 96));
  CHECK(design.runs[0].has_trench);
  CHECK(design.runs[0].fabric.permittivity == 1.5);
  CHECK(design.runs[0].cap.depth == Approx(0.0508));
  CHECK_FALSE(design.runs[1].has_trench);
  CHECK(design.runs[1].to == "fence outlet");
  CHECK(design.outlets.size() == 1);
}

TEST_CASE("every table is read, and only what is unlikely is warned of") {
  const Folder folder;
  folder.write("lidar.tif", "x");
  folder.write(
      "holes.csv",
      "hole,diameter_in,depth_in,time_min,water_depth_in,presoak\nA,6,20,0,8,yes\nA,6,20,60,7.5,yes\n");
  const auto site = read(everything, folder);
  CHECK(site.warnings.size() == 1);
  REQUIRE(site.tune);
  CHECK(warned(site, "although the hole test gives"));
}

TEST_CASE("what stands in the file is no default") {
  const Folder folder;
  folder.write("lidar.tif", "x");
  folder.write(
      "holes.csv",
      "hole,diameter_in,depth_in,time_min,water_depth_in,presoak\nA,6,20,0,8,yes\nA,6,20,60,7.5,yes\n");
  const auto site = read(everything, folder);
  for (const char* key :
       {"site.units", "site.cell", "soil[1].topsoil.depth", "soil[1].topsoil.conductivity", "soil[1].start",
        "storm.depth", "storm.dry", "target.areas", "design[1].run[1].fall", "design[1].run[1].trench.depth"})
    CHECK(assumed(site, key) == "not listed");
  CHECK(assumed(site, "soil[1].topsoil.porosity") == "0.5");
}

TEST_CASE("headings that are not known, and files that are not text") {
  const auto heading = error_of(yard("[strom]\ndepth = \"1 in\"\n"));
  CHECK(heading.where.line == 7);
  CHECK_THAT(heading.mend, ContainsSubstring("`storm`"));
  CHECK_THROWS_AS(read(std::string("\x00\x01\x02\xff\xfe", 5)), InputError);
  CHECK_THROWS_AS(read(std::string("\x7f\x45\x4c\x46 = [")), InputError);
  CHECK_THROWS_AS(site::read_site("/nowhere/at/all", small_catalog()), InputError);
  CHECK_THROWS_AS(read(""), InputError);
}

TEST_CASE("a file cut short anywhere is read or refused, never worse") {
  const Folder folder;
  folder.write("lidar.tif", "x");
  folder.write(
      "holes.csv",
      "hole,diameter_in,depth_in,time_min,water_depth_in,presoak\nA,6,20,0,8,yes\nA,6,20,60,7.5,yes\n");
  const std::string whole = everything;
  int read_through = 0;
  for (std::size_t length = 0; length < whole.size(); length += 7) {
    try {
      read(whole.substr(0, length), folder);
      ++read_through;
    } catch (const InputError&) {
    }
  }
  CHECK(read_through > 5);
}
