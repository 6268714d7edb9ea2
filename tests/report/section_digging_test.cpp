#include "catch.hpp"

#include <lowspot/report/sections.hpp>

#include "report/picture.hpp"

using namespace lowspot::report;

TEST_CASE("the cautions for digging are always there") {
  const sample::PageMaker maker;
  CHECK_THAT(section("digging").html(maker.page()),
             ContainsSubstring("utilities located") && ContainsSubstring("Private lines") &&
                 ContainsSubstring("45 degrees") && ContainsSubstring("Trees") &&
                 ContainsSubstring("about 1.7 ft"));
}

TEST_CASE("the warning grows with the trench") {
  sample::PageMaker maker;
  auto& depth = maker.site.designs[0].runs[0].trench_depth;
  depth = 4.2 * 0.3048;
  CHECK_THAT(section("digging").html(maker.page()),
             ContainsSubstring("class=\"alert\"") && ContainsSubstring("a ladder or"));
  depth = 5 * 0.3048;
  CHECK_THAT(section("digging").html(maker.page()), ContainsSubstring("not routine work"));
}

TEST_CASE("a pit counts as a trench does") {
  sample::PageMaker maker;
  lowspot::site::Outlet pit;
  pit.kind = "pump";
  pit.well.depth = 5.5 * 0.3048;
  maker.site.designs[0].outlets.push_back(pit);
  CHECK_THAT(section("digging").html(maker.page()),
             ContainsSubstring("about 5.5 ft") && ContainsSubstring("not routine work"));
}
