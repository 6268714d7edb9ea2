#include "catch.hpp"

#include <lowspot/results/soggy.hpp>

using namespace lowspot::results;

TEST_CASE("ground is soggy from 4 in below its surface, or from the middle of a shallow soil") {
  CHECK_THAT(above_soggy_level(0.5, 0.5 - 0.1016), WithinAbs(0, 1e-15));
  CHECK(above_soggy_level(0.5, 0.45) > 0);
  CHECK(above_soggy_level(0.5, 0.2) < 0);
  CHECK_THAT(above_soggy_level(0.1, 0.05), WithinAbs(0, 1e-15));
  CHECK(above_soggy_level(0.1, 0.01) < 0);
  CHECK(above_soggy_level(0.5, 0) < 0);
  CHECK_FALSE(above_soggy_level(0.0, 0) > 0);
  CHECK(above_soggy_level(0.5, 0, true) > 0); // air has not come back in
}
