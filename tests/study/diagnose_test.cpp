#include "catch.hpp"
#include "simple_yard.hpp"

#include <lowspot/study/diagnose.hpp>

using namespace lowspot;

TEST_CASE("the low spots of a yard are diagnosed, largest first") {
  SimpleYard yard = simple_yard(
      21, 21, 0.5, [](double x, double y) { return 1.0 + 0.02 * std::hypot(x - 5.25, y - 5.25); });
  yard.site.storm.pattern = "blocks";
  yard.site.storm.blocks = {{1800, 1e-5}};
  const study::Diagnosis diagnosis = study::diagnose(yard.site, yard.ground);
  REQUIRE(diagnosis.low_spots.size() == 1);
  CHECK(diagnosis.low_spots[0].spot.id == 1);
}

TEST_CASE("hollows too shallow to be listed count in the sum") {
  SimpleYard yard = simple_yard(9, 3, 1, [](double, double) { return 1.0; });
  open_side(yard, terrain::Side::east);
  yard.ground.elevation[yard.ground.grid.index(2, 1)] = 0.9;   // 100 mm
  yard.ground.elevation[yard.ground.grid.index(6, 1)] = 0.996; // 4 mm
  yard.site.storm.pattern = "blocks";
  yard.site.storm.blocks = {{1800, 1e-5}};
  const study::Diagnosis diagnosis = study::diagnose(yard.site, yard.ground);
  CHECK(diagnosis.low_spots.size() == 1);
  CHECK(diagnosis.pools == 2);
  CHECK_THAT(diagnosis.pools_volume, WithinAbs(0.104, 1e-12));
}

TEST_CASE("lawn that is drawn and lawn that is left over are told as one") {
  SimpleYard yard = simple_yard(
      21, 21, 0.5, [](double x, double y) { return 1.0 + 0.02 * std::hypot(x - 5.25, y - 5.25); });
  site::Area lawn;
  lawn.impervious = yard.site.lawn.impervious;
  lawn.name = "lawn";
  lawn.outline = {{0, 0}, {5, 0}, {5, 10.5}, {0, 10.5}};
  yard.site.areas = {lawn};
  terrain::Coverage half;
  for (int j = 0; j < 21; ++j)
    for (int i = 0; i < 10; ++i) {
      half.cells.push_back(static_cast<int>(yard.ground.grid.index(i, j)));
      half.fractions.push_back(1);
    }
  yard.ground.areas = {half};
  yard.site.storm.pattern = "blocks";
  yard.site.storm.blocks = {{1800, 1e-5}};
  const study::Diagnosis diagnosis = study::diagnose(yard.site, yard.ground);
  REQUIRE(diagnosis.low_spots.size() == 1);
  REQUIRE(diagnosis.low_spots[0].covers.size() == 1);
  CHECK_THAT(diagnosis.low_spots[0].covers[0].area, WithinRel(diagnosis.low_spots[0].spot.catchment, 1e-9));
}
