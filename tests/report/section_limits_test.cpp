#include "catch.hpp"

#include <lowspot/report/sections.hpp>

#include "report/picture.hpp"

using namespace lowspot::report;

TEST_CASE("the limits of the model are always there") {
  const sample::PageMaker maker;
  CHECK_THAT(section("limits").html(maker.page()), ContainsSubstring("engineer&#39;s certification"));
  CHECK_THAT(section("limits").html(maker.page()),
             ContainsSubstring("cracks") && ContainsSubstring("local code governs"));
}
