#include <lowspot/site/read_hole_test.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/measure/hole_test.hpp>

#include "sample.hpp"

using namespace sample;

namespace {
constexpr double inch = 0.0254;
constexpr double in_per_hour = inch / 3600;

site::Site read_with(const std::string& table, const std::string& soil) {
  const Folder folder;
  folder.write("holes.csv", table);
  return read(yard("[[soil]]\nhole_test = \"holes.csv\"\n" + soil), folder);
}

// Levels of an exact fall: 8 in of water in a 6-inch hole that reaches `depth` inches down.
std::string falling(const std::string& name, double conductivity, double depth,
                    const std::string& presoak = "yes") {
  std::string rows;
  const measure::AugerHole hole{3 * inch, 12};
  const double step = measure::conductivity_time(hole, 8 * inch, 7 * inch) / conductivity;
  for (int k = 0; k < 4; ++k)
    rows += name + ",6," + std::to_string(depth) + "," + std::to_string(k * step / 60) + "," +
            std::to_string(measure::level_after(hole, 8 * inch, conductivity * step * k) / inch) + "," +
            presoak + "\n";
  return rows;
}
const std::string header = "hole,diameter_in,depth_in,time_min,water_depth_in,presoak\n";
const std::string shallow = "topsoil = { depth = \"7 in\" }\n";

std::string tag_of(const site::Site& site, const std::string& key) {
  for (const auto& each : site.assumptions)
    if (each.key == key) return each.tag;
  return "";
}
} // namespace

TEST_CASE("a hole below the topsoil gives the tight layer's conductivity, tagged as measured") {
  const double k = 0.03 * in_per_hour;
  const site::Site site = read_with(header + falling("A", k, 20), shallow);
  const site::Soil& soil = site.soils[0];
  REQUIRE(soil.holes.size() == 1);
  CHECK(soil.holes[0].layer == "tight layer");
  CHECK(soil.holes[0].used);
  CHECK_THAT(soil.holes[0].conductivity.likely, WithinRel(k, 1e-3)); // the table's digits
  CHECK_THAT(soil.tight_conductivity.likely, WithinRel(k, 1e-3));
  CHECK(soil.tight_conductivity.low < soil.holes[0].conductivity.low);
  CHECK(soil.tight_conductivity.high > soil.holes[0].conductivity.high);
  CHECK(tag_of(site, "soil[1].tight_layer.conductivity") == "measured");
  CHECK(tag_of(site, "soil[1].topsoil.conductivity") == "default");
  CHECK(tag_of(site, "soil[1].hole_test.sorptive_number") == "default");
  CHECK_THAT(soil.holes[0].says,
             ContainsSubstring("1/16")); // 6.6 in of water on the average in a 6-inch hole
  REQUIRE(soil.holes_say.size() == 1);
  CHECK_THAT(soil.holes_say[0], ContainsSubstring("worth digging"));
}

TEST_CASE("a hole that ends in the topsoil speaks for the topsoil") {
  const site::Site site =
      read_with(header + falling("A", 0.5 * in_per_hour, 9), "topsoil = { depth = \"10 in\" }\n");
  CHECK(site.soils[0].holes[0].layer == "topsoil");
  CHECK_THAT(site.soils[0].conductivity.likely, WithinRel(0.5 * in_per_hour, 1e-3));
  CHECK(tag_of(site, "soil[1].topsoil.conductivity") == "measured");
  CHECK(tag_of(site, "soil[1].tight_layer.conductivity") == "default");
}

TEST_CASE("water that stands in both layers speaks for neither until it is down in the tight one") {
  const double k = 0.05 * in_per_hour;
  // 20 in deep: 8 in of water reach up to 12 in below the ground.
  const site::Site both = read_with(header + falling("A", k, 20), "topsoil = { depth = \"12.6 in\" }\n");
  CHECK(both.soils[0].holes[0].used); // the later readings stand below 12.6 in, near enough
  const site::Site mixed = read_with(header + falling("A", k, 20), "topsoil = { depth = \"17 in\" }\n");
  CHECK(!mixed.soils[0].holes[0].used);
  CHECK(mixed.soils[0].holes[0].layer.empty());
  CHECK(warned(mixed, "neither layer"));
  CHECK(tag_of(mixed, "soil[1].tight_layer.conductivity") == "default");
}

TEST_CASE("more holes narrow the band, and holes that differ keep it wide") {
  const double k = 0.03 * in_per_hour;
  const auto width = [](const site::Site& site) {
    return site.soils[0].tight_conductivity.high / site.soils[0].tight_conductivity.low;
  };
  const site::Site one = read_with(header + falling("A", k, 20), shallow);
  const site::Site three = read_with(
      header + falling("A", k, 20) + falling("B", 1.2 * k, 20) + falling("C", k / 1.2, 20), shallow);
  const site::Site apart =
      read_with(header + falling("A", k, 20) + falling("B", 6 * k, 20) + falling("C", k / 6, 20), shallow);
  CHECK(width(three) < width(one));
  CHECK(width(apart) > width(three));
  CHECK_THAT(three.soils[0].tight_conductivity.likely, WithinRel(k, 1e-3));
  CHECK_THAT(three.soils[0].holes_say[0], ContainsSubstring("3 holes"));
}

TEST_CASE("a conductivity that is stated wins, with a warning") {
  const site::Site site = read_with(header + falling("A", 0.03 * in_per_hour, 20),
                                    shallow + "tight_layer = { conductivity = \"0.2 in/hr\" }\n");
  CHECK_THAT(site.soils[0].tight_conductivity.likely, WithinRel(0.2 * in_per_hour, 1e-12));
  CHECK(warned(site, "although the hole test gives"));
  CHECK(tag_of(site, "soil[1].tight_layer.conductivity").empty());
  CHECK(site.soils[0].holes.size() == 1);
}

TEST_CASE("a hole that fills from perched water is named and not used") {
  const site::Site site = read_with(header + "A,6,20,0,8,yes\nA,6,20,60,6,yes\nA,6,20,120,7,yes\n", shallow);
  CHECK(!site.soils[0].holes[0].used);
  CHECK(warned(site, "not slow soil"));
  CHECK(tag_of(site, "soil[1].tight_layer.conductivity") == "default");
  CHECK(site.soils[0].holes_say.empty());
}

TEST_CASE("what the table leaves out is listed: presoak, depth of the hole") {
  const site::Site site =
      read_with("hole,diameter_in,water_depth_in,drop_in,time_min\nA,6,8,1,60\n", shallow);
  CHECK(site.soils[0].holes[0].layer == "tight layer");
  CHECK_THAT(assumed(site, "soil[1].hole_test.presoak"), ContainsSubstring("\"A\""));
  CHECK_THAT(assumed(site, "soil[1].hole_test.depth"), ContainsSubstring("\"A\""));
  CHECK_THAT(site.soils[0].holes[0].says, ContainsSubstring("not presoaked"));
}

TEST_CASE("a dry-season test without presoak is taken down further, and said so") {
  const std::string columns = "hole,diameter_in,depth_in,water_depth_in,drop_in,time_min,presoak,date\n";
  const site::Site spring = read_with(columns + "A,6,20,8,1,60,no,2024-04-10\n", shallow);
  const site::Site summer = read_with(columns + "A,6,20,8,1,60,no,2024-08-10\n", shallow);
  CHECK(summer.soils[0].tight_conductivity.likely < spring.soils[0].tight_conductivity.likely);
  CHECK_THAT(summer.soils[0].holes[0].says, ContainsSubstring("dry season"));
}

TEST_CASE("a table that is missing or damaged is an error with its place") {
  CHECK_THAT(error_of(yard("[[soil]]\nhole_test = \"hole.csv\"")).found, ContainsSubstring("hole.csv"));
  const Folder folder;
  folder.write("holes.csv", "diameter_in,time_min,water_depth_in\n6,0,8\n6,30,\n");
  const InputError error = error_of(yard("[[soil]]\nhole_test = \"holes.csv\""), folder);
  CHECK_THAT(error.where.file, ContainsSubstring("holes.csv"));
  CHECK(error.where.line == 3);
}

TEST_CASE("a hole that ran dry between readings is used with a wide band, and asks to be read sooner") {
  const site::Site site = read_with(header + "A,6,20,0,6,yes\nA,,,30,0,\nA,,,60,0,\n", shallow);
  const site::HoleTest& hole = site.soils[0].holes[0];
  CHECK(hole.used);
  CHECK_THAT(hole.says, ContainsSubstring("empty by the next reading") && ContainsSubstring("read sooner"));
  CHECK(hole.conductivity.high > 4 * hole.conductivity.likely);
  const site::Site dry = read_with(header + "A,6,20,0,0,yes\nA,,,30,0,\n", shallow);
  CHECK(!dry.soils[0].holes[0].used);
  CHECK(warned(dry, "Hardly any water stood in the hole"));
}

TEST_CASE("slow clay under quick topsoil is used, not called ground water") {
  const site::Site site = read_with(header + "A,6,17,0,16,yes\nA,,,10,12.6875,\nA,,,20,10.9375,\n"
                                             "A,,,30,10.0625,\nA,,,60,9.9375,\nA,,,90,9.875,\n"
                                             "A,,,120,9.8125,\nA,,,150,9.75,\n",
                                    shallow);
  CHECK(site.soils[0].holes[0].used);
  CHECK(site.soils[0].holes[0].conductivity.low < 0.006 * in_per_hour);
}
