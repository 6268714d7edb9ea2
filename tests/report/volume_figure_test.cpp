#include "catch.hpp"

#include <lowspot/report/volume_figure.hpp>

using namespace lowspot::report;

TEST_CASE("a volume over an edge is told no finer than it could be measured") {
  const Unit gallon{3.785411784e-3, "gal"};
  const auto told = [&](double gallons) { return volume_figure(gallons * gallon.si, gallon); };
  CHECK(told(0) == "0");
  CHECK(told(0.0384) == "<0.1");
  CHECK(told(0.188) == "0.2");
  CHECK(told(7.24) == "7.2");
  CHECK(told(57.53) == "57.5");
  CHECK(told(574.4) == "574");
}
