#include "catch.hpp"

#include <lowspot/study/missed_hours.hpp>

using namespace lowspot::study;

TEST_CASE("a near miss does not read as what was agreed") {
  CHECK(missed_plain_hours(24.4, 24) == "just over 24 hours");
  CHECK(missed_plain_hours(0.6, 0.5) == "less than an hour");
}

TEST_CASE("hours that keep the limit, or miss it by what can be read, are said as always") {
  CHECK(missed_plain_hours(24, 24) == "about 24 hours");
  CHECK(missed_plain_hours(23.6, 24) == "about 24 hours");
  CHECK(missed_plain_hours(34, 24) == "about 34 hours");
}
