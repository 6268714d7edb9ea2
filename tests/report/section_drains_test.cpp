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
  maker.comparison.verdict.design = "another";
  CHECK_THAT(section("drains").html(maker.page()),
             ContainsSubstring("<summary>Profiles of 3 in along the patio"));
  maker.comparison.designs.resize(1); // as is only
  CHECK(section("drains").html(maker.page()).empty());
}
