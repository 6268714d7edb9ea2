#include "catch.hpp"

#include <lowspot/report/sections.hpp>

#include "report/picture.hpp"

using namespace lowspot::report;

TEST_CASE("holes: raw rate beside conductivity, and a hole that gave none") {
  sample::PageMaker maker;
  lowspot::site::Soil soil;
  soil.name = "yard";
  constexpr double in_per_hour = 0.0254 / 3600;
  lowspot::site::HoleTest good;
  good.name = "A & B";
  good.layer = "tight layer";
  good.used = true;
  good.diameter = 0.1524, good.depth = 0.508, good.water_depth = 0.1524;
  good.raw_rate = in_per_hour;
  good.conductivity = {0.03 * in_per_hour, 0.07 * in_per_hour, 0.1 * in_per_hour};
  good.says = "falls fast";
  lowspot::site::HoleTest wet;
  wet.name = "C";
  wet.diameter = 0.2;
  wet.says = "perched water";
  soil.holes = {good, wet};
  soil.holes_say = {"tight layer: 1 hole says so"};
  maker.site.soils = {soil};
  const std::string html = section("holes").html(maker.page());
  CHECK_THAT(html, ContainsSubstring("A &amp; B") && ContainsSubstring("1 in/hr") &&
                       ContainsSubstring("0.07 in/hr") && ContainsSubstring("0.03 in/hr to 0.1 in/hr"));
  CHECK_THAT(html,
             ContainsSubstring("neither") && ContainsSubstring("none") && ContainsSubstring("perched water"));
  CHECK(html.find("1 hole says so") < html.find("<table"));
}

TEST_CASE("without holes the page says what a hole would be worth") {
  const sample::PageMaker maker;
  CHECK_THAT(section("holes").html(maker.page()), ContainsSubstring("No hole was tested"));
}
