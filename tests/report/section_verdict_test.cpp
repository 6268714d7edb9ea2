#include "catch.hpp"

#include <lowspot/report/sections.hpp>

#include "report/picture.hpp"

using namespace lowspot;
using namespace lowspot::report;

TEST_CASE("the verdict stands first, with the figure of each design") {
  sample::PageMaker maker;
  const std::string html = section("verdict").html(maker.page());
  CHECK(html.find("3-inch is enough") < html.find("48 h"));
  CHECK_THAT(html, ContainsSubstring("6 h") && ContainsSubstring("does not clear within the target") &&
                       ContainsSubstring("\u2713 clears within the target") &&
                       ContainsSubstring("24 h after the rain"));
  results::CheckRecord check;
  check.id = "roots";
  check.name = "Roots of trees";
  check.about = "<oak>";
  check.outcome = results::CheckOutcome::fail;
  maker.comparison.designs[1].checks.push_back(check);
  CHECK_THAT(section("verdict").html(maker.page()),
             ContainsSubstring("1 limit is not kept: Roots of trees (&lt;oak&gt;)"));
  maker.comparison.verdict.sentence = "<script>alert(1)</script>";
  CHECK(section("verdict").html(maker.page()).find("<script>") == std::string::npos);
}

TEST_CASE("a yard without areas is judged by its wettest spot") {
  sample::PageMaker maker;
  maker.comparison.clear_within = 24 * 3600;
  for (auto& design : maker.comparison.designs) {
    design.areas.clear();
    design.still_standing = false;
    design.standing_hours.assign(maker.comparison.grid.cells(), 0);
    design.standing_hours[7] = 60;
  }
  const std::string html = section("verdict").html(maker.page());
  CHECK_THAT(html, !ContainsSubstring("\u2713 clears within the target") &&
                       ContainsSubstring("\u2717 does not clear within the target") &&
                       ContainsSubstring("60 h") &&
                       ContainsSubstring("the wettest spot stands after the rain"));
}

TEST_CASE("roots that are soggy too long are told from soggy ground, whose hours begin after the rain") {
  sample::PageMaker maker;
  maker.comparison.soggy_limit = 36 * 3600;
  for (auto& design : maker.comparison.designs) design.beds.at(0).soggy_hours = 80;
  CHECK_THAT(section("verdict").html(maker.page()),
             ContainsSubstring("long bed: roots soggy, rain included, for 3.5 days, agreed 36 h"));
  for (auto& design : maker.comparison.designs)
    design.beds.at(0).soggy_hours = 126, design.beds.at(0).still_soggy = true;
  CHECK_THAT(section("verdict").html(maker.page()),
             ContainsSubstring("long bed: roots soggy, rain included, for over 5 days, agreed 36 h"));
}

TEST_CASE("a near miss is told from the target") {
  sample::PageMaker maker;
  maker.comparison.clear_within = 24 * 3600;
  for (auto& area : maker.comparison.designs[1].areas) {
    area.judged = true, area.still_standing = false;
    area.standing_hours_after_rain = 24.6, area.clear_within_target = false;
  }
  CHECK_THAT(section("verdict").html(maker.page()), ContainsSubstring("just over 24 h"));
  CHECK_THAT(section("areas").html(maker.page()), ContainsSubstring("just over 24 h"));
  for (auto& design : maker.comparison.designs)
    for (auto& area : design.areas) area.soggy_hours_after_rain = 30;
  CHECK_THAT(section("soggy").html(maker.page()), ContainsSubstring(">just over 24 h<"));
}
