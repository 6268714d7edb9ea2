#include "catch.hpp"

#include <lowspot/rain/hard_rain.hpp>

using namespace lowspot::rain;

TEST_CASE("Rain beyond half of the hardest ever measured is put in words, in both units") {
  CHECK(depth_in_both_units(0.254) == "254 mm (10 in)");
  CHECK(near_the_hardest(8.2 * 0.0254, 3600).empty()); // half of 16.6 in
  CHECK_THAT(near_the_hardest(8.4 * 0.0254, 3600),
             ContainsSubstring("(8.4 in) in 60 min") && ContainsSubstring("(16.6 in)"));
  CHECK(near_the_hardest(0.1, 0).empty());
}
