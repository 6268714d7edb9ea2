#include "catch.hpp"

#include <algorithm>

#include <lowspot/report/page_style.hpp>

TEST_CASE("the style serves dark screens, keyboards and paper, and loads nothing") {
  const std::string style = lowspot::report::page_style(false);
  CHECK_THAT(style, ContainsSubstring("prefers-color-scheme:dark") && ContainsSubstring(":focus-visible") &&
                        ContainsSubstring("@media print") && ContainsSubstring("size:letter"));
  CHECK_THAT(lowspot::report::page_style(true), ContainsSubstring("size:A4"));
  // A sentence has room on a phone, a table that goes on beside the screen shows it, and on paper no head of
  // a table stands without a row.
  CHECK_THAT(style, ContainsSubstring("td.long{min-width:15rem}") &&
                        ContainsSubstring(".scroll:has(>table){background:") &&
                        ContainsSubstring("caption,thead,h4{break-after:avoid}"));
  // What a row is about stays in sight while its figures are scrolled.
  CHECK_THAT(style, ContainsSubstring(".scroll tbody th[scope=row]{position:sticky;left:0") &&
                        ContainsSubstring("th.name,td.name{min-width:7rem}"));
  // On a phone a chart is as wide as the screen, with larger letters and its legend below; on paper it is
  // not.
  const auto phone = style.find("@media screen and (max-width:40rem){figure");
  REQUIRE(phone != std::string::npos);
  CHECK_THAT(style.substr(phone, 400), ContainsSubstring(".chart text{font-size:20px}") &&
                                           ContainsSubstring(".in-chart{display:none}.key{display:flex}"));
  CHECK(style.find(".chart text{fill:") < phone); // the later of two equal rules is the one that holds
  CHECK(style.find("url(") == std::string::npos);
  CHECK(style.find("@import") == std::string::npos);
  CHECK(style.find('<') == std::string::npos);
  CHECK(std::count(style.begin(), style.end(), '{') == std::count(style.begin(), style.end(), '}'));
}

TEST_CASE("a thumb that must be touched to be moved is as large as a finger") {
  // Half of it beyond either side of the map, so that its middle goes where the map is parted.
  CHECK_THAT(
      lowspot::report::page_style(false),
      ContainsSubstring("#swipe-at::-webkit-slider-thumb{-webkit-appearance:none;width:3rem;height:100%}") &&
          ContainsSubstring("#swipe-at{position:absolute;inset:0 -1.5rem;width:calc(100% + 3rem)"));
}
