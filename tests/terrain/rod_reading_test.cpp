#include "catch.hpp"

#include <string>

#include <lowspot/terrain/rod_reading.hpp>

using namespace lowspot::terrain;

TEST_CASE("readings as crews write them", "[rod_reading]") {
  const double foot = 0.3048, inch = 0.0254;
  struct Case {
    const char* text;
    double metres;
    bool inches;
  };
  const Case cases[] = {
      {"4.35", 4.35 * foot, false},
      {" 12 ", 12 * foot, false},
      {"4' 3 5/8\"", 4 * foot + 3.625 * inch, true},
      {"4'3 5/8\"", 4 * foot + 3.625 * inch, true},
      {"4-3 5/8", 4 * foot + 3.625 * inch, true},
      {"4-3 5/8\"", 4 * foot + 3.625 * inch, true},
      {"4-3", 4 * foot + 3 * inch, true},
      {"4-11 7/8", 4 * foot + 11.875 * inch, true},
      {"4'", 4 * foot, true},
      {"3 5/8\"", 3.625 * inch, true},
      {"4-6-3", 4 * foot + 6.375 * inch, true},
      {"4.6.3", 4 * foot + 6.375 * inch, true},
      {"4-6-0", 4 * foot + 6 * inch, true},
      {"10-11-7", 10 * foot + 11.875 * inch, true},
      {"4-6-3/8", 4 * foot + 6.375 * inch, true},
      {"4-6-3/8\"", 4 * foot + 6.375 * inch, true},
      {"4 6 3/8", 4 * foot + 6.375 * inch, true},
      {"4 - 6 3/8", 4 * foot + 6.375 * inch, true},
      {"4' 6 3/8\"", 4 * foot + 6.375 * inch, true},
      {"4' 11 7/8\"", 4 * foot + 11.875 * inch, true},
      {"14 1/4\"", 14.25 * inch, true},
      // As telephones write them.
      {"4\u2019 3 5/8\u201D", 4 * foot + 3.625 * inch, true},
      {"4\u2032 3\u2033", 4 * foot + 3 * inch, true},
      {"4\u2013"
       "3 5/8",
       4 * foot + 3.625 * inch, true},
      {"4-3\u00BD", 4 * foot + 3.5 * inch, true},
      {"4 ft 3 in", 4 * foot + 3 * inch, false},
      {"1.32 m", 1.32, false},
      {"132.5 cm", 1.325, false},
      {"1325 mm", 1.325, false},
  };
  for (const Case& c : cases) {
    INFO(c.text);
    const auto reading = parse_rod_reading(c.text, foot);
    REQUIRE(reading);
    CHECK_THAT(reading->metres, WithinAbs(c.metres, 1e-12));
    CHECK(reading->inches == c.inches);
  }
  CHECK(parse_rod_reading("4.35", foot)->decimal);
  CHECK_FALSE(parse_rod_reading("4", foot)->decimal);
  CHECK_THAT(parse_rod_reading("1.325", 1.0)->metres, WithinAbs(1.325, 1e-15));
}

TEST_CASE("what is no reading is refused", "[rod_reading]") {
  for (const char* text :
       {"",           "abc",          "4.3.9",   "4.12.3", "4-6-8",       "4-13",   "4-6 8/8",
        "4 6",        "4.3.5.1",      "4-6-3-1", "4..3",   "4,35",        "4-",     "-",
        "4-x",        "nan",          "inf",     "4 s",    "3' 13 1/4\"", "3'12\"", "3\u2019 13\u201D",
        "3 ft 13 in", "3 feet 12 in", "+-4.35",  "-+4.35", "++4.35",      "--4.35"}) {
    INFO(text);
    CHECK_FALSE(parse_rod_reading(text, 0.3048));
  }
}
