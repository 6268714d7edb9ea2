#include <lowspot/drain/stone_flow.hpp>

#include "catch.hpp"

using namespace lowspot::drain;

TEST_CASE("the flux satisfies Forchheimer's law, either way") {
  for (double gradient : {-0.5, -0.01, 0.0, 1e-4, 0.01, 1.0}) {
    double slope = 0;
    const double v = stone_flux(gradient, 0.08, 200, slope);
    CHECK_THAT(v / 0.08 + 200 * v * std::abs(v), WithinAbs(gradient, 1e-14));
    CHECK_THAT(slope, WithinRel(1 / (1 / 0.08 + 400 * std::abs(v)), 1e-12));
  }
}

TEST_CASE("without inertia it is Darcy's law, without conductivity nothing") {
  double slope = 0;
  CHECK_THAT(stone_flux(0.02, 0.05, 0, slope), WithinRel(1e-3, 1e-12));
  CHECK(stone_flux(0.02, 0, 200, slope) == 0);
  CHECK(slope == 0);
}

TEST_CASE("a reach gives nothing from a dry side and nothing between equal levels") {
  const StoneReach reach{1.0, 0.9, 1.5, 1.4, 0.3, 0.5, 0.08, 200};
  CHECK(stone_reach_flow(reach, 1.0, 0.9).q == 0);
  CHECK(stone_reach_flow(reach, 0.5, 1.0).q == 0); // b holds water, but below the bottom of a
  CHECK(stone_reach_flow(reach, 1.2, 1.2).q == 0);
  CHECK(stone_reach_flow(reach, 1.3, 1.2).q > 0);
  CHECK(stone_reach_flow(reach, 1.1, 1.2).q < 0);
}

TEST_CASE("the slopes of a reach are its derivatives") {
  const StoneReach reach{1.0, 0.9, 1.5, 1.4, 0.3, 0.5, 0.08, 200};
  const double step = 1e-7;
  for (const auto& [a, b] :
       {std::pair(1.3, 1.15), std::pair(1.05, 1.25), std::pair(1.1, 0.95), std::pair(1.7, 1.2)}) {
    const Exchange2 at = stone_reach_flow(reach, a, b);
    CHECK_THAT((stone_reach_flow(reach, a + step, b).q - stone_reach_flow(reach, a - step, b).q) / (2 * step),
               WithinRel(at.da, 1e-5));
    CHECK_THAT((stone_reach_flow(reach, a, b + step).q - stone_reach_flow(reach, a, b - step).q) / (2 * step),
               WithinRel(at.db, 1e-5));
  }
}
