#include "catch.hpp"

#include <lowspot/report/sections.hpp>

#include "report/picture.hpp"

using namespace lowspot::report;

TEST_CASE("each run shows what it carries against what it can, and its profile") {
  sample::PageMaker maker;
  const std::string html = section("drains").html(maker.page());
  CHECK_THAT(html, ContainsSubstring("41 %") && ContainsSubstring("cap (20 h)") &&
                       ContainsSubstring("never") && ContainsSubstring("Profile of west leg") &&
                       ContainsSubstring("12 wide, 20 deep at the head"));
  // Where the yard does without, paper still has what is proposed, its tables no heads without rows.
  maker.comparison.verdict.design = maker.comparison.designs.front().name;
  CHECK_THAT(section("drains").html(maker.page()),
             !ContainsSubstring("<summary>") && !ContainsSubstring("<tr class=\"only-screen\">"));
  maker.comparison.verdict.design = "another";
  CHECK_THAT(section("drains").html(maker.page()),
             ContainsSubstring("<summary>Profiles of 3 in along the patio"));
  maker.comparison.designs.resize(1); // as is only
  CHECK(section("drains").html(maker.page()).empty());
}

TEST_CASE("a pit stands in a table of its own, with how full it becomes and when it is empty") {
  sample::PageMaker maker;
  CHECK_THAT(section("drains").html(maker.page()), !ContainsSubstring("Pits and pump basins"));
  auto& outlet = maker.site.designs[0].outlets[0];
  outlet.kind = "dry well";
  outlet.well.plan = 1, outlet.well.depth = 0.5, outlet.well.void_share = 0.4; // 0.2 m3, 52.8 gal
  auto& record = maker.comparison.designs[1];
  record.vessels = {{outlet.name, "dry well", 0, 0.15}};
  lowspot::results::CheckRecord check;
  check.id = "drain_down", check.about = outlet.name, check.found = "empty 30 h after the rain";
  record.checks.push_back(check);
  CHECK_THAT(section("drains").html(maker.page()),
             ContainsSubstring("Pits and pump basins") && ContainsSubstring("<td class=\"n\">53<") &&
                 ContainsSubstring("<td class=\"n\">40<") && ContainsSubstring("75 %") &&
                 ContainsSubstring("empty 30 h after the rain"));
}

TEST_CASE("pits of designs that are not proposed leave no empty table on paper") {
  sample::PageMaker maker;
  auto& outlet = maker.site.designs[0].outlets[0];
  outlet.kind = "dry well";
  outlet.well.plan = 1, outlet.well.depth = 0.5;
  maker.comparison.designs[1].vessels = {{outlet.name, "dry well", 0, 0.15}};
  const std::string on_paper =
      "<div class=\"only-screen\"><div class=\"scroll\" tabindex=\"0\" role=\"group\" "
      "aria-label=\"Pits and pump basins\">";
  CHECK_THAT(section("drains").html(maker.page()), !ContainsSubstring(on_paper));
  maker.comparison.designs.push_back(maker.comparison.designs[1]);
  maker.comparison.designs[2].name = "another";
  maker.comparison.verdict.design = "another";
  CHECK_THAT(section("drains").html(maker.page()), ContainsSubstring(on_paper));
}
