#include "catch.hpp"

#include <cmath>
#include <fstream>

#include <lowspot/base/error.hpp>
#include <lowspot/gis/shapes.hpp>

using namespace lowspot;
using namespace lowspot::gis;

#ifdef LOWSPOT_WITH_GDAL
namespace {
std::filesystem::path scratch(const std::string& name) {
  return std::filesystem::temp_directory_path() / ("lowspot_" + std::to_string(getpid()) + "_" + name);
}
void write(const std::filesystem::path& path, const std::string& text) {
  std::ofstream(path) << text;
}
Shape area(const std::string& name, const std::vector<Point>& corners) {
  return {ShapeKind::area, corners, {{"name", name}, {"depth_m", 0.25}}};
}
} // namespace

TEST_CASE("outlines written come back by name, whatever the name") {
  const auto path = scratch("areas.geojson");
  const std::string odd = "=\"quoted\" <b>\u00e9</b> \U0001F33F";
  write_geojson(
      path, {area("patio", {{0, 0}, {4, 0}, {4, 3}}), area(odd, {{10, 10}, {14, 10}, {14, 13}, {10, 13}})},
      "EPSG:6549");
  const Polygon back = read_outline(path, odd, "EPSG:6549");
  REQUIRE(back.size() == 4);
  CHECK(back[2].x == Approx(14));
  CHECK(back[2].y == Approx(13));
  CHECK(read_outline(path, "PATIO", "").size() == 3);
  CHECK_THROWS_WITH(read_outline(path, "", ""), ContainsSubstring("2 outlines"));
  CHECK_THROWS_WITH(read_outline(path, "pond", ""), ContainsSubstring("\"patio\""));
  std::filesystem::remove(path);
}

TEST_CASE("an outline in degrees is turned into the yard's system; plain figures are the yard's own") {
  const auto path = scratch("turned.geojson");
  const char* form = R"({"type":"FeatureCollection","features":[{"type":"Feature","properties":{"name":"a"},)"
                     R"("geometry":{"type":"Polygon","coordinates":[[%]]}}]})";
  const auto with = [&](const std::string& ring) {
    std::string text = form;
    write(path, text.replace(text.find('%'), 1, ring));
  };
  // UTM zone 32 north: on its central meridian the easting is 500 km; the northing of 45 degrees is known.
  with("[9,45],[9.001,45],[9.001,45.001],[9,45]");
  const Polygon turned = read_outline(path, "", "EPSG:32632");
  REQUIRE(turned.size() == 3);
  CHECK_THAT(turned[0].x, WithinAbs(500000, 0.01));
  CHECK_THAT(turned[0].y, WithinAbs(4982950.4, 1.0));
  with("[500000,4982950],[500010,4982950],[500010,4982960],[500000,4982950]");
  CHECK_THAT(read_outline(path, "", "EPSG:32632")[1].x, WithinAbs(500010, 1e-9));
  std::filesystem::remove(path);
}

TEST_CASE("a closed line on a layer of a drawing is an outline") {
  const auto path = scratch("plan.dxf");
  const auto polyline = [](const std::string& layer, bool closed, double x) {
    std::string text = "0\nLWPOLYLINE\n8\n" + layer + "\n90\n4\n70\n" + (closed ? "1" : "0") + "\n";
    for (const Point p : {Point{x, 0}, Point{x + 5, 0}, Point{x + 5, 2}, Point{x, 2}})
      text += "10\n" + std::to_string(p.x) + "\n20\n" + std::to_string(p.y) + "\n";
    return text;
  };
  write(path, "0\nSECTION\n2\nENTITIES\n" + polyline("PATIO", true, 3) + polyline("FENCE", false, 30) +
                  "0\nENDSEC\n0\nEOF\n");
  const Polygon patio = read_outline(path, "patio", "");
  REQUIRE(patio.size() == 4);
  CHECK(patio[1].x == Approx(8));
  CHECK(read_outline(path, "", "EPSG:6549").size() == 4); // a drawing names no system
  CHECK_THROWS_WITH(read_outline(path, "FENCE", ""), ContainsSubstring("no closed outline"));
  CHECK_THROWS_AS(read_outline(scratch("none.dxf"), "", ""), InputError);
  write(path, "not a drawing");
  CHECK_THROWS_AS(read_outline(path, "", ""), InputError);
  std::filesystem::remove(path);
}

TEST_CASE("an area with a hole or in pieces is no outline, and which of the two it is") {
  const auto path = scratch("holes.geojson");
  const std::string ring = "[[0,0],[60,0],[60,40],[0,40],[0,0]]", hole = "[[10,10],[20,10],[20,20],[10,10]]",
                    aside = "[[70,0],[80,0],[80,9],[70,0]]";
  const auto problem = [&](const std::string& kind, const std::string& coordinates) -> std::string {
    write(path, R"({"type":")" + kind + R"(","coordinates":)" + coordinates + "}");
    try {
      read_outline(path, "", "");
    } catch (const InputError& error) {
      return error.found;
    }
    return "";
  };
  CHECK(problem("Polygon", "[" + ring + "]").empty());
  CHECK(problem("Polygon", "[" + ring + "," + hole + "]") == "an area with a hole in it");
  CHECK(problem("MultiPolygon", "[[" + ring + "," + hole + "]]") == "an area with a hole in it");
  CHECK(problem("MultiPolygon", "[[" + ring + "],[" + aside + "]]") == "an area of 2 pieces");
  CHECK(problem("MultiPolygon", "[[" + ring + "]]").empty());
  std::filesystem::remove(path);
}

TEST_CASE("what cannot be written is an error with the file's name") {
  CHECK_THROWS_WITH(write_geojson("/no/such/folder/a.geojson", {area("a", {{0, 0}, {1, 0}, {1, 1}})}, ""),
                    ContainsSubstring("a.geojson"));
  CHECK_THROWS_AS(write_geojson(scratch("b.geojson"), {}, "EPSG:nonsense"), InputError);
}
#endif
