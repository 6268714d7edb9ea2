#include "catch.hpp"

#include <limits>

#include <lowspot/report/units.hpp>

using namespace lowspot::report;

TEST_CASE("feet and inches on paper") {
  const Units units = units_for("ft");
  CHECK(amount(0.0254, units.depth) == "1 in");
  CHECK(amount(0.3048 * 100.25, units.length, 5) == "100.25 ft");
  CHECK(amount(3.785411784e-3 * 187, units.volume, 3) == "187 gal");
  CHECK(amount(3.785411784e-3 / 60 * 8, units.flow) == "8 gal/min");
  CHECK(amount(0.0254 / 3600, units.rain) == "1 in/hr");
  CHECK(elevation_text(30.48, units) == "100.00 ft");
}

TEST_CASE("metres on paper") {
  const Units units = units_for("m");
  CHECK(amount(0.018, units.depth) == "18 mm");
  CHECK(amount(0.25, units.volume) == "250 L");
  CHECK(elevation_text(30.4805, units) == "30.480 m");
}

TEST_CASE("figures are no finer than they can be known") {
  const Unit one{1, "x"};
  CHECK(figure(1234, one) == "1200");
  CHECK(figure(123456, one, 6) == "123,456");
  CHECK(figure(1e9, one, 3).find(',') == std::string::npos);
  CHECK(figure(0, one) == "0");
  CHECK(amount(0, one) == "none");
  CHECK(figure(2e-5, one) == "<0.001");
  CHECK(figure(std::numeric_limits<double>::quiet_NaN(), one) == "\u2013");
  CHECK(hours_text(0) == "none");
  CHECK(hours_text(0.4) == "under 1 h");
  CHECK(hours_text(4.37) == "4 h");
  CHECK(hours_text(33.6) == "34 h");
  CHECK(hours_text(123) == "5 days");
  CHECK(open_hours_text(33.6, true) == "over 32 h");
  CHECK(open_hours_text(126, true) == "over 5 days"); // a run of 5.25 days has not shown 5.5
  CHECK(open_hours_text(33.6, false) == "34 h");
  for (const double hours : {0.0, 0.4}) { // "over none", "over under 1 h"
    CHECK(open_hours_text(hours, true) == "still standing at the end");
    CHECK(open_hours_text(hours, true, "still soggy at the end") == "still soggy at the end");
    CHECK(open_hours_text(hours, false) == hours_text(hours));
  }
  CHECK(percent(0.404) == "40 %");
  CHECK(clock_text(9000) == "2 h 30 min");
  CHECK(clock_text(7200) == "2 h");
  CHECK(clock_text(0) == "0 min");
}
