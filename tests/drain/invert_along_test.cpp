#include "catch.hpp"

#include <lowspot/drain/invert_along.hpp>

using namespace lowspot;

TEST_CASE("the invert is straight between the points of a path and held beyond its ends") {
  drain::Run run;
  run.path = {{0, 0}, {4, 0}, {4, 0}, {4, 2}}; // a point that stands twice
  run.inverts = {10, 9.6, 9.6, 9.5};
  CHECK_THAT(drain::invert_along(run, 1), WithinAbs(9.9, 1e-12));
  CHECK_THAT(drain::invert_along(run, 4), WithinAbs(9.6, 1e-12));
  CHECK_THAT(drain::invert_along(run, 5), WithinAbs(9.55, 1e-12));
  CHECK_THAT(drain::invert_along(run, -1), WithinAbs(10, 1e-12));
  CHECK_THAT(drain::invert_along(run, 7), WithinAbs(9.5, 1e-12));
}
