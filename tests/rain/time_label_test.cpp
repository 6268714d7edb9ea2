#include "catch.hpp"

#include <lowspot/rain/time_label.hpp>

using namespace lowspot::rain;

namespace {
double seconds(const std::string& text) {
  const auto label = time_label(text);
  REQUIRE(label);
  return label->seconds;
}
} // namespace

TEST_CASE("Dates count from 1970 by the calendar") {
  CHECK(seconds("1970-01-01") == 0);
  CHECK(seconds("1970-01-02 00:00") == 86400);
  CHECK(seconds("2000-03-01T00:00:00") == 951868800);
  CHECK(seconds("2024-02-29 23:59:59.5") == 1709251199.5);
  CHECK(seconds("2024-12-31 24:00") == seconds("2025-01-01 00:00"));
  CHECK(seconds("2024/05/17 14:05") == seconds("2024-05-17 14:05"));
  CHECK(seconds("2024-05-17 2:05") == seconds("2024-05-17 02:05"));
}

TEST_CASE("A zone moves the time to that of Greenwich") {
  CHECK(time_label("2024-05-17 14:05Z")->zoned);
  CHECK_FALSE(time_label("2024-05-17 14:05")->zoned);
  for (const char* text : {"2024-05-17T16:05+02:00", "2024-05-17 16:05 +0200", "2024-05-17 16:05+02",
                           "2024-05-17T08:35-05:30", "2024-05-17T14:05 UTC", "2024-05-17 14:05z"})
    CHECK(seconds(text) == seconds("2024-05-17 14:05"));
}

TEST_CASE("A clock of twelve hours") {
  CHECK(seconds("2024-05-17 2:05 PM") == seconds("2024-05-17 14:05"));
  CHECK(seconds("2024-05-17 12:05 AM") == seconds("2024-05-17 00:05"));
  CHECK(seconds("2024-05-17 12:05:30pm") == seconds("2024-05-17 12:05:30"));
}

TEST_CASE("What is no date is none") {
  for (const char* text : {"",
                           "5",
                           "14:05",
                           "2024-05-17 14",
                           "2024-13-01",
                           "2023-02-29",
                           "2024-05-17 25:00",
                           "2024-05-17 24:01",
                           "2024-05-17 13:05 PM",
                           "2024-05-17 0:05 AM",
                           "2024-05-17 14:60",
                           "2024-05-17 14:05 noon",
                           "2024-05-17 14:05:61",
                           "2024-05-17 14:05+25:00",
                           "2024-05-17 14:05+02:99",
                           "17-05-2024",
                           "5/17/2024",
                           "2024-05-17x14:05",
                           "2024-05-17Z",
                           "24-05-17 14:05",
                           "2024-05-17 14:05:",
                           "2024-05/17"})
    CHECK_FALSE(time_label(text));
}
