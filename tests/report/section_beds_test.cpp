#include "catch.hpp"

#include <lowspot/report/sections.hpp>

#include "report/picture.hpp"

using namespace lowspot::report;

TEST_CASE("beds are told by wet and by dry, with their moisture drawn") {
  sample::PageMaker maker;
  CHECK_THAT(section("beds").html(maker.page()), ContainsSubstring("43 %") && ContainsSubstring("3 days") &&
                                                     ContainsSubstring("Water missing from the roots"));
  for (auto& design : maker.comparison.designs) design.beds.clear();
  CHECK(section("beds").html(maker.page()).empty());
}
