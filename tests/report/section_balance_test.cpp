#include "catch.hpp"

#include <lowspot/report/sections.hpp>

#include "report/picture.hpp"

using namespace lowspot::report;

TEST_CASE("the water balance adds up in the reader's units and says how well it closes") {
  sample::PageMaker maker;
  CHECK_THAT(section("balance").html(maker.page()),
             ContainsSubstring("3883") &&
                 ContainsSubstring("less than a part in 100 million")); // 14.7 m3 in gallons
  maker.comparison.designs[0].ledger.closure = 0.0147;
  CHECK_THAT(section("balance").html(maker.page()), ContainsSubstring("0.1 % of the rain"));
}
