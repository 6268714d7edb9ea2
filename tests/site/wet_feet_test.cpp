#include <cmath>

#include "catch.hpp"

#include <lowspot/site/wet_feet.hpp>

using namespace lowspot::site;

TEST_CASE("grass stands weeks of cold water and hardly a day of hot water") {
  CHECK_THAT(turf_limit(30).low / 3600, WithinRel(24, 1e-12));
  CHECK_THAT(turf_limit(35).high / 3600, WithinRel(120, 1e-12));
  CHECK_THAT(turf_limit(20).low / 3600, WithinRel(120, 1e-12));
  CHECK_THAT(turf_limit(4).low / 3600, WithinRel(480, 1e-12));
  CHECK_THAT(turf_limit(25).low / 3600, WithinRel(std::sqrt(24.0 * 120.0), 1e-12));
  CHECK(turf_limit(not_given).low == turf_limit(20).low);
  for (double t = 0; t < 40; t += 1) CHECK(turf_limit(t + 1).low <= turf_limit(t).low);
}

TEST_CASE("other plants keep the hours of their row") {
  Plants plants;
  plants.kind = "shrubs";
  plants.hours_to_damage_low = 3600;
  CHECK(wet_feet_limit(plants, 30).low == 3600);
  plants.kind = "lawn grass";
  CHECK(wet_feet_limit(plants, 30).low == turf_limit(30).low);
  CHECK(is_grass("dense lawn"));
  CHECK_FALSE(is_grass("mulched bed"));
}
