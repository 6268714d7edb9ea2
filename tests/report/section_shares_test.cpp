#include "catch.hpp"

#include <lowspot/report/sections.hpp>

#include "report/picture.hpp"
#include "report/sample_shares.hpp"

using namespace lowspot::report;

TEST_CASE("each place's sources are drawn, told and listed") {
  sample::PageMaker maker;
  CHECK(section("shares").html(maker.page()).empty()); // nothing was followed
  sample::add_shares(maker.comparison);
  const std::string html = section("shares").html(maker.page());
  CHECK_THAT(html, ContainsSubstring("long bed: surface water and water in the soil") &&
                       ContainsSubstring("At its fullest 62 % of the water is rain on patio") &&
                       ContainsSubstring("62 % at best: turn the rain on patio away") &&
                       ContainsSubstring("To be sure: ") && ContainsSubstring("south edge") &&
                       ContainsSubstring("130 gal") && ContainsSubstring("house, &lt;west&gt; downspout"));
  CHECK(html.find("<west>") == std::string::npos);
}

TEST_CASE("one share is written one way in the sentence, the table, the chart and what a fix takes") {
  sample::PageMaker maker;
  sample::add_shares(maker.comparison);
  maker.comparison.designs.front().shares.places[1].at_peak = {0.125, 0.0625, 0.25,
                                                               0.0625}; // an eighth twice
  const std::string html = section("shares").html(maker.page());
  CHECK_THAT(html, ContainsSubstring("and 13 % water rising out of the soil") &&
                       ContainsSubstring("\">13 %</td>") && ContainsSubstring(">13 %</text>") &&
                       ContainsSubstring("13 % at best") && !ContainsSubstring("12 %"));
}
