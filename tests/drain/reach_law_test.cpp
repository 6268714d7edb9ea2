#include <lowspot/drain/reach_law.hpp>

#include <cmath>

#include <lowspot/drain/orifice.hpp>

#include "catch.hpp"

using namespace lowspot::drain;

TEST_CASE("without drag a reach passes its conveyance times the root of the slope") {
  double root_slope = 0;
  for (const double slope : {0.0, 1e-5, -2e-4, 0.01, 0.3}) {
    const ReachFlow flow = reach_flow(0.04, 0, slope, 1e-4);
    const double root = smooth_root(slope, 1e-4, root_slope);
    CHECK_THAT(flow.q, WithinRel(0.04 * root, 1e-14));
    CHECK_THAT(flow.by_slope, WithinRel(0.04 * root_slope, 1e-12));
    CHECK_THAT(flow.by_conveyance, WithinRel(root, 1e-14));
  }
  CHECK(reach_flow(0, 0, 0.01, 1e-4).q == 0);
  CHECK(reach_flow(0, 5, 0.01, 1e-4).q == 0);
}

TEST_CASE("friction and drag together spend the slope, either way") {
  for (const double slope : {0.002, 0.01, 0.1})
    for (const double drag : {0.1, 3.0, 100.0, 1e6}) {
      const double q = reach_flow(0.04, drag, slope, 1e-7).q;
      CHECK_THAT(q * q / (0.04 * 0.04) + drag * q, WithinRel(slope, 1e-8));
      CHECK(reach_flow(0.04, drag, -slope, 1e-7).q == -q);
    }
}

TEST_CASE("the slopes of the flow along a reach are its derivatives") {
  const double k = 0.04;
  for (const double slope : {0.0, 3e-5, -2e-3, 0.05})
    for (const double drag : {0.0, 0.5, 40.0}) {
      const ReachFlow at = reach_flow(k, drag, slope, 1e-4);
      const auto difference = [&](double dk, double dd, double ds) {
        return reach_flow(k + dk, drag + dd, slope + ds, 1e-4).q -
               reach_flow(k - dk, drag - dd, slope - ds, 1e-4).q;
      };
      CHECK_THAT(difference(0, 0, 1e-8) / 2e-8, WithinRel(at.by_slope, 1e-5));
      CHECK_THAT(difference(1e-6, 0, 0) / 2e-6,
                 WithinAbs(at.by_conveyance, 1e-6 * (1e-6 + std::abs(at.by_conveyance))));
      CHECK_THAT(difference(0, 1e-5, 0) / 2e-5, WithinAbs(at.by_drag, 1e-4 * std::abs(at.by_drag) + 1e-12));
    }
}
