#include <lowspot/drain/limits.hpp>

#include "catch.hpp"

using namespace lowspot::drain;

TEST_CASE("the largest loss under stress is named") {
  HeadLosses losses;
  losses.slots = 0.1;
  CHECK(limiting_member(losses) == Limit::nothing); // no stress
  losses.under_stress = true;
  CHECK(limiting_member(losses) == Limit::slots);
  losses.outlet = 0.2;
  CHECK(limiting_member(losses) == Limit::outlet);
  losses = {};
  losses.under_stress = true;
  losses.pipe = 0.002; // not worth naming
  CHECK(limiting_member(losses) == Limit::nothing);
}

TEST_CASE("every limit has its name") {
  CHECK(limit_name(Limit::nothing) == "nothing");
  CHECK(limit_name(Limit::fabric) == "fabric");
  CHECK(limit_name(Limit::outlet) == "outlet");
}
