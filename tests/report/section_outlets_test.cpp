#include "catch.hpp"

#include <lowspot/report/sections.hpp>

#include "report/sample_diagnosis.hpp"

using namespace lowspot::report;

TEST_CASE("outlets and low spots of a diagnosis stand in the report; without one, only the low spots") {
  const sample::PageMaker maker;
  const auto all = sample::diagnosis();
  Page page = maker.page();
  CHECK(section("outlets").html(page).empty());
  page.diagnosis = &all;
  CHECK_THAT(section("outlets").html(page),
             ContainsSubstring("south edge") && ContainsSubstring("street (curb)"));
  CHECK_THAT(section("low-spots").html(page),
             ContainsSubstring("What sheds to each low spot") && ContainsSubstring("on wet ground"));
}
