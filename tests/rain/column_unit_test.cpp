#include "catch.hpp"

#include <lowspot/rain/column_unit.hpp>

using namespace lowspot::rain;

TEST_CASE("Units are whole words of a column's name") {
  CHECK(length_unit_of("rain_mm") == 1e-3);
  CHECK(length_unit_of("Rain (in.)") == 0.0254);
  CHECK(length_unit_of("depth_in") == 0.0254);
  CHECK(length_unit_of("rain in mm") == 1e-3);
  CHECK(length_unit_of("rain in cm") == 0.01);
  CHECK(length_unit_of("rain in feet") == 0.3048);
  CHECK(length_unit_of("rain in m") == 1);
  CHECK_FALSE(length_unit_of("rain"));
  CHECK_FALSE(length_unit_of("rain_inside"));
  CHECK_FALSE(length_unit_of("comment"));
  CHECK(counts_parts_of_a_unit("Rain (0.1 mm)"));
  CHECK(counts_parts_of_a_unit("rain_tenths_mm"));
  CHECK_FALSE(counts_parts_of_a_unit("rain_mm"));
  CHECK(time_unit_of("time_min") == 60);
  CHECK(time_unit_of("duration_h") == 3600);
  CHECK(time_unit_of("Time (hours)") == 3600);
  CHECK(time_unit_of("time_s") == 1);
  CHECK_FALSE(time_unit_of("time"));
  CHECK_FALSE(time_unit_of("time_of_sampling"));
  CHECK_FALSE(time_unit_of(""));
}
