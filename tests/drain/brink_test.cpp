#include <lowspot/drain/brink.hpp>

#include <cmath>

#include <lowspot/drain/orifice.hpp>

#include "catch.hpp"

using namespace lowspot::drain;

namespace {

const Section section = make_section(0.15, 0.011);

// Half a station of a pipe that falls by 0.2 %, all of the depth gradient counting.
BrinkReach mild(double depth_above, double push = 4) {
  const SectionState state = at_depth(section, depth_above);
  return {state.conveyance, state.conveyance_slope, 0.002, push, 1e-4};
}

} // namespace

TEST_CASE("at the brink the depth is critical and the reach brings what goes over it") {
  for (const double depth : {0.002, 0.03, 0.07, 0.12, 0.149})
    for (const double push : {0.1, 1.0, 10.0}) {
      const BrinkReach reach = mild(depth, push);
      const auto over = flow_over_brink(section, reach, depth, 0);
      REQUIRE(over);
      CHECK(over->depth > 0);
      CHECK(over->depth < depth);
      double slope = 0;
      CHECK_THAT(over->q, WithinRel(free_end_flow(section, 0, over->depth, slope), 1e-11));
      const double gradient = 0.002 + push * (depth - over->depth);
      CHECK_THAT(over->q, WithinRel(reach.conveyance * smooth_root(gradient, 1e-4, slope), 1e-12));
    }
}

TEST_CASE("the slope of the flow over a brink is that of differences") {
  const double step = 1e-6;
  for (const double depth : {0.01, 0.05, 0.1, 0.13}) {
    const double up = flow_over_brink(section, mild(depth + step), depth + step, 0)->q;
    const double down = flow_over_brink(section, mild(depth - step), depth - step, 0)->q;
    CHECK_THAT(flow_over_brink(section, mild(depth), depth, 0)->slope,
               WithinRel((up - down) / (2 * step), 1e-5));
  }
}

TEST_CASE("there is no brink where the water beyond is deeper, or the reach is steep") {
  const double depth = flow_over_brink(section, mild(0.07), 0.07, 0)->depth;
  CHECK(flow_over_brink(section, mild(0.07), 0.07, 0.999 * depth));
  CHECK_FALSE(flow_over_brink(section, mild(0.07), 0.07, 1.001 * depth));
  CHECK_FALSE(flow_over_brink(section, mild(0.07), 0.07, 0.08));
  BrinkReach steep = mild(0.07);
  steep.bed = 0.05;
  CHECK_FALSE(flow_over_brink(section, steep, 0.07, 0));
  CHECK_FALSE(flow_over_brink(section, mild(0), 0, 0));
  // What lies beyond does not count as long as it is lower.
  CHECK_THAT(flow_over_brink(section, mild(0.07), 0.07, 0)->q,
             WithinRel(flow_over_brink(section, mild(0.07), 0.07, 0.02)->q, 1e-12));
}

TEST_CASE("water that stands still at a brink without fall goes over it by its pressure alone") {
  BrinkReach level = mild(0.05);
  level.bed = 0;
  const auto over = flow_over_brink(section, level, 0.05, 0);
  REQUIRE(over);
  CHECK(over->q > 0);
  level.bed = -0.5; // rises more than the water is deep
  CHECK_FALSE(flow_over_brink(section, level, 0.05, 0));
}
