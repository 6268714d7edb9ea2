#include "catch.hpp"

#include <cmath>
#include <limits>

#include <lowspot/terrain/raster_doubts.hpp>

#include "yards.hpp"

using namespace lowspot;
using namespace lowspot::terrain;

namespace {
const double unknown = std::numeric_limits<double>::quiet_NaN();

struct Case {
  site::Site site = plain_site(rectangle(0, 0, 10, 10), 0.5);
  gis::Raster raster;
  Case() {
    site.ground.raster = "ground.tif";
    raster.nx = raster.ny = 40;
    raster.dx = raster.dy = 0.5;
    raster.metres_per_vertical_unit = 1;
    raster.metres_per_file_unit = 1;
    heights([](int i, int j) { return 300 + 0.0137 * i + 0.0071 * j; });
  }
  template <class Height>
  void heights(Height height) {
    raster.z.clear();
    for (int j = 0; j < raster.ny; ++j)
      for (int i = 0; i < raster.nx; ++i) raster.z.push_back(height(i, j));
  }
  std::string said() const {
    std::string all;
    for (const std::string& sentence : raster_doubts(site, raster)) all += sentence + "\n";
    return all;
  }
};
bool hole(int i, int j) {
  return i > 10 && i < 14 && j > 10 && j < 13;
}
} // namespace

TEST_CASE("a raster like those of survey offices is not doubted", "[raster_doubts]") {
  Case one;
  CHECK(one.said() == "");
  one.heights([](int i, int j) {
    return hole(i, j) ? unknown : std::round(100 * (300 + 0.0137 * i + 0.0071 * j)) / 100;
  });
  CHECK(one.said() == "");                                                       // centimetres
  one.heights([](int i, int j) { return 300 + 0.01 * j + (i > 20 ? 1.5 : 0); }); // a wall
  CHECK(one.said() == "");
  one.heights([](int i, int) { return 300 + 0.03 * i; }); // a made-up slope
  CHECK(one.said() == "");
  one.heights([](int, int) { return 300.0; });
  CHECK(one.said() == "");
  one.heights([](int i, int j) { return hole(i, j) ? 303.2 + 0.01 * i : 300 + 0.0137 * i; }); // a roof
  CHECK(one.said() == "");
}

TEST_CASE("one figure that stands apart from all others is no ground", "[raster_doubts]") {
  Case one;
  for (const double filler : {0.0, -999.0, -32.768, 9999.0, 32767.0, 1e10}) {
    one.heights([&](int i, int j) { return hole(i, j) ? filler : 300 + 0.0137 * i + 0.0071 * j; });
    CHECK_THAT(one.said(), ContainsSubstring("ground.tif: 6 cells stand at") &&
                               ContainsSubstring(filler < 300 ? "below all others" : "above all others") &&
                               ContainsSubstring("no-data"));
  }
}

TEST_CASE("whole feet or metres make terraces", "[raster_doubts]") {
  Case one;
  one.heights([](int i, int) { return std::floor(300 + 0.0937 * i); });
  CHECK_THAT(one.said(), ContainsSubstring("steps of 1 m") && ContainsSubstring("terraces"));
  one.heights([](int i, int) { return std::floor(10 * (300 + 0.0137 * i)) / 10; });
  CHECK_THAT(one.said(), ContainsSubstring("steps of 0.1 m"));
}

TEST_CASE("cells wider than the hollows of a yard", "[raster_doubts]") {
  Case one;
  one.raster.dx = one.raster.dy = 10;
  CHECK_THAT(one.said(), ContainsSubstring("cells are 10 m wide") && ContainsSubstring("stands"));
  one.raster.dx = one.raster.dy = 2;
  CHECK(one.said() == "");
}

TEST_CASE("a unit of height that nobody says, beside coordinates in another", "[raster_doubts]") {
  Case one;
  one.raster.metres_per_vertical_unit = unknown;
  CHECK(one.said() == "");
  one.site.units = "ft";
  one.site.unit = 0.3048;
  CHECK_THAT(one.said(), ContainsSubstring("taken in ft") && ContainsSubstring("coordinates are in m") &&
                             ContainsSubstring("3.3 times as steep"));
  one.site.ground.raster_unit = 1;
  CHECK(one.said() == "");
  one.site.ground.raster_unit = unknown;
  one.raster.metres_per_file_unit = 1200.0 / 3937; // survey feet
  CHECK(one.said() == "");
  one.raster.metres_per_file_unit = unknown;
  CHECK(one.said() == ""); // nothing to tell it by
  one.raster.file_in_degrees = true;
  CHECK_THAT(one.said(), ContainsSubstring("in degrees"));
  one.site.units = "m";
  one.site.unit = 1;
  one.raster.file_in_degrees = false;
  one.raster.metres_per_file_unit = 0.3048;
  CHECK_THAT(one.said(), ContainsSubstring("3.3 times as flat"));
}
