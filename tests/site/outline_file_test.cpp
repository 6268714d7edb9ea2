#include <lowspot/site/outline_file.hpp>

#include "site/sample.hpp"

using namespace lowspot;

namespace {
const char* plan = R"({"type":"FeatureCollection","features":[
{"type":"Feature","properties":{"name":"patio"},"geometry":{"type":"Polygon","coordinates":[[[10,10],[30,10],[30,20],[10,20],[10,10]]]}},
{"type":"Feature","properties":{"name":"bow tie"},"geometry":{"type":"Polygon","coordinates":[[[0,0],[10,10],[10,0],[0,10],[0,0]]]}},
{"type":"Feature","properties":{"name":"fence"},"geometry":{"type":"LineString","coordinates":[[0,0],[5,5]]}}]})";
std::string patio(const std::string& outline) {
  return sample::yard("[[area]]\nname = \"patio\"\nkind = \"concrete\"\noutline = " + outline + "\n");
}
} // namespace

TEST_CASE("an outline may stand in a drawing, in the site's units") {
  const sample::Folder folder;
  folder.write("plan.geojson", plan);
  InputError error({}, "", "", "");
  try {
    const site::Site site = sample::read(patio("\"plan.geojson:patio\""), folder);
    REQUIRE(site.areas[0].outline.size() == 4);
    CHECK(area(site.areas[0].outline) == Approx(200 * 0.3048 * 0.3048));
  } catch (const InputError& refused) { // a build that reads no drawings says so
    CHECK_THAT(refused.mend, ContainsSubstring("LOWSPOT_GIS=ON"));
    return;
  }
  error = sample::error_of(patio("\"plan.geojson:pond\""), folder);
  CHECK(error.where.key == "area[1].outline");
  CHECK(error.where.line == 10);
  CHECK_THAT(error.expected, ContainsSubstring("\"patio\""));
  CHECK_THAT(sample::error_of(patio("\"plan.geojson\""), folder).found, ContainsSubstring("outlines"));
  CHECK_THAT(sample::error_of(patio("\"plan.geojson:bow tie\""), folder).found,
             ContainsSubstring("cannot be used"));
  CHECK_THAT(sample::error_of(patio("\"plan.geojson:fence\""), folder).found, ContainsSubstring("no closed"));
  CHECK_THAT(sample::error_of(patio("\"gone.dxf\""), folder).found, ContainsSubstring("no such file"));
}

TEST_CASE("text that names no drawing is refused with an example") {
  const InputError error = sample::error_of(patio("\"patio.png\""));
  CHECK_THAT(error.expected, ContainsSubstring("plan.dxf:PATIO"));
  CHECK(error.where.line > 0);
}

TEST_CASE("a drawing in a system of another unit is refused where the yard names no system") {
  const sample::Folder folder;
  const std::string named = R"({"type":"FeatureCollection",
"crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:EPSG::26917"}},"features":[
{"type":"Feature","properties":{"name":"patio"},"geometry":{"type":"Polygon","coordinates":[[[500010,4500010],[500030,4500010],[500030,4500020],[500010,4500010]]]}}]})";
  folder.write("plan.geojson", named);
  const InputError error = sample::error_of(patio("\"plan.geojson:patio\""), folder);
  if (error.mend.find("LOWSPOT_GIS=ON") != std::string::npos) return;
  CHECK(error.where.key == "area[1].outline");
  CHECK_THAT(error.found, ContainsSubstring("units of 1 m"));
  CHECK_THAT(error.mend, ContainsSubstring("units = \"m\""));
}

TEST_CASE(
    "what is wrong in a drawing is told with the drawing's name and line, beside the line that names it") {
  const sample::Folder folder;
  folder.write("plan.dxf", "0\nSECTION\nnot a code\n2\n");
  const InputError error = sample::error_of(patio("\"plan.dxf:PATIO\""), folder);
  if (error.mend.find("LOWSPOT_GIS=ON") != std::string::npos) return;
  CHECK(error.where.key == "area[1].outline");
  CHECK_THAT(error.found, ContainsSubstring("(in plan.dxf, line 3)"));
  const InputError none = sample::error_of(patio("\"missing.geojson\""), folder);
  CHECK_THAT(none.found, ContainsSubstring("(in missing.geojson)"));
}
