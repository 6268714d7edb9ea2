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
