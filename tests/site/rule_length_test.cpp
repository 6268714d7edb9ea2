#include <lowspot/site/rule_length.hpp>

#include "catch.hpp"

using namespace lowspot::site;

TEST_CASE("a rule in whole feet is told in the yard's own unit first") {
  CHECK(rule_length(5, true) == "5 ft");
  CHECK(rule_length(5, false) == "1.5 m (5 ft)");
  CHECK(rule_length(25, false) == "7.6 m (25 ft)");
}
