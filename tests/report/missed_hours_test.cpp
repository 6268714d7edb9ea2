#include "catch.hpp"

#include <lowspot/report/missed_hours.hpp>

using namespace lowspot::report;

TEST_CASE("a near miss in a table does not read as what was agreed") {
  CHECK(missed_hours(24.4, 24) == "just over 24 h");
  CHECK(missed_hours(72.5, 72) == "just over 3 days");
  CHECK(missed_hours(0.9, 0.5) == "under 1 h");
  CHECK(missed_hours(24, 24) == "24 h");
  CHECK(missed_hours(23.6, 24) == "24 h");
  CHECK(missed_hours(34, 24) == "34 h");
}
