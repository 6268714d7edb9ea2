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
