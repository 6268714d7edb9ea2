#include "catch.hpp"

#include <lowspot/report/sections.hpp>

#include "report/picture.hpp"

using namespace lowspot::report;

TEST_CASE("low spots are listed in the site's units, the first dozen of them") {
  sample::PageMaker maker;
  CHECK_THAT(section("low-spots").html(maker.page()),
             ContainsSubstring("24.0, 15.0") && ContainsSubstring("0.18"));
  for (int k = 2; k < 30; ++k) {
    maker.comparison.low_spots.push_back(maker.comparison.low_spots[0]);
    maker.comparison.low_spots.back().id = k;
  }
  const std::string html = section("low-spots").html(maker.page());
  CHECK(html.find("<th scope=\"row\">13</th>") == std::string::npos);
  CHECK_THAT(html, ContainsSubstring("29 in all"));
  maker.comparison.low_spots.clear();
  CHECK_THAT(section("low-spots").html(maker.page()), ContainsSubstring("no low spot"));
}
