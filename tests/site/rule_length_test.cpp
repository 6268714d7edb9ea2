#include <lowspot/site/rule_length.hpp>

#include "catch.hpp"

#include <lowspot/site/site.hpp>

using namespace lowspot::site;

TEST_CASE("a rule in whole feet is told in the yard's own unit first") {
  CHECK(rule_length(5, true) == "5 ft");
  CHECK(rule_length(5, false) == "1.5 m (5 ft)");
  CHECK(rule_length(25, false) == "7.6 m (25 ft)");
}

TEST_CASE("a usual size is round in the unit of the yard, an inch for 25 mm") {
  CHECK(usual_size(12, true) == "12 in");
  CHECK(usual_size(12, false) == "300 mm");
  CHECK(usual_size_of(0.1016, true) == 0.1016);
  CHECK(usual_size_of(0.1016, false) == Approx(0.1).epsilon(1e-12));
  CHECK(usual_size_of(0.05, false) == 0.05);
}

TEST_CASE("a usual size is that of the yard it is asked for") {
  Site site;
  site.units = "ft";
  CHECK(usual_size(12, site) == "12 in");
  CHECK(usual_size_of(0.1016, site) == 0.1016);
  site.units = "m";
  CHECK(usual_size(12, site) == "300 mm");
  CHECK(usual_size_of(0.1016, site) == Approx(0.1).epsilon(1e-12));
}
