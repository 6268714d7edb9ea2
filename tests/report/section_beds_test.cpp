#include "catch.hpp"

#include <lowspot/report/sections.hpp>

#include "report/picture.hpp"

using namespace lowspot::report;

TEST_CASE("beds are told by wet and by dry, with their moisture drawn and their water accounted for") {
  sample::PageMaker maker;
  CHECK_THAT(section("beds").html(maker.page()),
             ContainsSubstring("43 %") && ContainsSubstring("3 days") && ContainsSubstring("thirsty below") &&
                 ContainsSubstring("soggy above") && ContainsSubstring("run-on that soaked in") &&
                 ContainsSubstring("because water that ran on to it goes elsewhere"));
  CHECK_THAT(section("beds").html(maker.page()), !ContainsSubstring("without rain"));
  for (auto& design : maker.comparison.designs) design.beds.clear();
  CHECK(section("beds").html(maker.page()).empty());
}

TEST_CASE("roots that drown longer than their plants stand are said, and so is grass in warm water") {
  sample::PageMaker maker;
  auto& bed = maker.comparison.designs[0].beds[0];
  bed.longest_soggy_hours = 100;
  CHECK_THAT(section("beds").html(maker.page()), ContainsSubstring("longer than some shrubs"));
  bed.longest_soggy_hours = 200;
  CHECK_THAT(section("beds").html(maker.page()), ContainsSubstring("longer than most shrubs"));
  maker.comparison.daily_high = 30;
  maker.comparison.cover_kinds = {"concrete", "mulched bed", "lawn"};
  maker.comparison.designs[0].areas[2].standing_hours_after_rain = 30;
  CHECK_THAT(section("beds").html(maker.page()),
             ContainsSubstring("86 \u00b0F") && ContainsSubstring("long enough to kill it"));
  maker.comparison.daily_high = 4;
  CHECK_THAT(section("beds").html(maker.page()), !ContainsSubstring("long enough to kill it"));
}

TEST_CASE("a season has its own table and chart") {
  sample::PageMaker maker;
  maker.comparison.season = {60 * 86400.0, 5.5e-8, "July", "after the storm"};
  for (auto& design : maker.comparison.designs) {
    design.season_beds = design.beds;
    design.season_time = {0, 86400, 60 * 86400.0};
    design.season_series = {{"bed:long bed:available_share", {1.2, 1.1, 0.2}}};
  }
  CHECK_THAT(section("beds").html(maker.page()),
             ContainsSubstring("Then 60 days without rain, as dry as July, after the storm.") &&
                 ContainsSubstring("Beds in the dry spell") && ContainsSubstring("days without rain"));
}

TEST_CASE("the heads say that one figure is a mean over the bed and the other is of half of it") {
  sample::PageMaker maker;
  CHECK_THAT(section("beds").html(maker.page()),
             ContainsSubstring("soggy roots in all, mean over it") &&
                 ContainsSubstring("Their hours count the rain as well") &&
                 ContainsSubstring("longest spell of half of it"));
}

TEST_CASE("on paper the beds of the proposed design and of the yard as it is are enough") {
  sample::PageMaker maker;
  auto other = maker.comparison.designs[1];
  other.name = "another drain";
  maker.comparison.designs.push_back(other);
  maker.comparison.verdict.design = maker.comparison.designs[1].name;
  const std::string html = section("beds").html(maker.page());
  CHECK_THAT(
      html, ContainsSubstring(
                "<tr class=\"only-screen\"><th scope=\"row\">long bed</th><td class=\"name\">another drain"));
  const auto aside = html.find("<div class=\"only-screen\"><ul>");
  REQUIRE(aside != std::string::npos);
  CHECK(html.find("long bed with another drain: ") > aside);
  CHECK(html.find("long bed with " + maker.comparison.designs[1].name + ": ") < aside);
}

TEST_CASE("hours of roots that the end of the run cut short are said to be more") {
  sample::PageMaker maker;
  auto& bed = maker.comparison.designs[0].beds[0];
  bed.soggy_hours = 40, bed.longest_soggy_hours = 100;
  CHECK_THAT(section("beds").html(maker.page()), !ContainsSubstring("over 40 h"));
  bed.still_soggy = bed.spell_open = true;
  CHECK_THAT(section("beds").html(maker.page()),
             ContainsSubstring("over 40 h") && ContainsSubstring("without air for over 4 days on end"));
  bed.soggy_hours = 0.2;
  CHECK_THAT(section("beds").html(maker.page()), ContainsSubstring("still soggy at the end"));
}

TEST_CASE("grass is warned of where there is no bed; without grass there is nothing to say") {
  sample::PageMaker maker;
  for (auto& design : maker.comparison.designs) design.beds.clear();
  maker.comparison.daily_high = 30;
  maker.comparison.cover_kinds = {"concrete", "mulched bed", "lawn"};
  maker.comparison.designs[0].areas[2].standing_hours_after_rain = 30;
  const std::string html = section("beds").html(maker.page());
  CHECK_THAT(html, ContainsSubstring("long enough to kill it") && !ContainsSubstring("<table"));
  maker.comparison.cover_kinds = {"concrete", "mulched bed", "gravel"};
  CHECK(section("beds").html(maker.page()).empty());
}
