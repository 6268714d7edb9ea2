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

TEST_CASE("hours that are but the least there were are stepped down, never up") {
  // A run of 5 days and 6 hours has shown that it lasted 5 days, not 5 and a half.
  for (const double hours : {0.4, 1.7, 9.99, 33.6, 71.9, 72.0, 83.0, 126.0, 239.0, 263.0, 500.0}) {
    CAPTURE(hours);
    CHECK(whole_steps_of(hours) <= hours + 1e-5);
    const double step = hours < 10 ? 1 : hours < 72 ? 2 : hours < 240 ? 12 : 24;
    CHECK(whole_steps_of(hours) > hours - step);
  }
  CHECK(whole_steps_of(126) == 120);
  CHECK(whole_steps_of(168 - 1e-9) == 168); // as the clock of a run ends
}
