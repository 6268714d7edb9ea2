#include "catch.hpp"

#include <lowspot/report/sections.hpp>

#include "report/picture.hpp"

using namespace lowspot::report;

TEST_CASE("each area has a row a design, one under the other") {
  sample::PageMaker maker;
  maker.comparison.designs[1].areas[1].still_standing = true;
  const std::string html = section("areas").html(maker.page());
  CHECK(html.find("48 h") < html.find("over 6 h"));
  CHECK_THAT(html, ContainsSubstring("deepest, in") && ContainsSubstring("\u2717 no") &&
                       ContainsSubstring("not judged") && ContainsSubstring("bed corner"));
  CHECK(html.find("over 48 h") == std::string::npos);
  maker.comparison.designs[0].gauges[0].still_standing = true; // a gauge that the run left wet
  const std::string gauges = section("areas").html(maker.page());
  CHECK_THAT(gauges.substr(gauges.find("Measured points")), ContainsSubstring("over "));
  auto& dry = maker.comparison.designs[0].gauges[0]; // never wet: not deepest after no minutes
  dry.max_depth = 0, dry.time_of_max = 0;
  const std::string never = section("areas").html(maker.page());
  CHECK_THAT(never.substr(never.find("Measured points")),
             ContainsSubstring("\u2013") && !ContainsSubstring("0 min"));
  maker.comparison.units = "m";
  CHECK_THAT(section("areas").html(maker.page()), ContainsSubstring("deepest, mm"));
}
