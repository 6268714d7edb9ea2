#include <lowspot/site/wording.hpp>

#include "catch.hpp"

using namespace lowspot;
using namespace lowspot::site;

TEST_CASE("figures are written in the units of the site") {
  Site feet, metres;
  metres.units = "m";
  metres.unit = 1;
  CHECK(written(0.1524, Dimension::length, feet) == "6 in");
  CHECK(written(3.048, Dimension::length, feet) == "10 ft");
  CHECK(written(0.1524, Dimension::length, metres) == "152 mm");
  CHECK(written(3.048, Dimension::length, metres) == "3.05 m");
  // As the pages write them, and as they may be typed into a site file.
  CHECK(written(9.290304, Dimension::area, feet) == "100 ft²");
  CHECK(written(12, Dimension::area, metres) == "12 m²");
  CHECK(written(1.88, Dimension::volume, metres) == "1.88 m³");
  CHECK(written(0.0254 / 3600, Dimension::speed, feet) == "1 in/hr");
  CHECK(written(0.001 / 3600, Dimension::speed, metres) == "1 mm/hr");
  CHECK(written(0.02, Dimension::slope, feet) == "2 %");
  CHECK(written(7 * 86400.0, Dimension::time, feet) == "7 d");
  CHECK(written(6 * 3600.0, Dimension::time, feet) == "6 hr");
  CHECK(written(Point{0.3048, 0.6096}, feet) == "[1, 2]");
}

TEST_CASE("a band shows its likely value and its limits") {
  const Site site;
  CHECK(written(Band{0.0254, 0.0508, 0.0762}, Dimension::length, site) == "2 in (1 in to 3 in)");
  CHECK(written(Band{0.0254, 0.0254, 0.0254}, Dimension::length, site) == "1 in");
}

TEST_CASE("a quantity has the article that English asks for") {
  CHECK(a_quantity(Dimension::area) == "an area");
  CHECK(a_quantity(Dimension::length) == "a length");
}
