#include <cmath>
#include <numbers>
#include <utility>

#include <lowspot/drain/orifice.hpp>

#include "catch.hpp"

using namespace lowspot::drain;

TEST_CASE("the smooth root is odd, and the root itself away from zero") {
  double slope = 0;
  CHECK(smooth_root(0, 1e-4, slope) == 0);
  CHECK_THAT(slope, WithinRel(100, 1e-12));
  CHECK_THAT(smooth_root(0.1, 1e-4, slope), WithinRel(std::sqrt(0.1), 1e-6));
  CHECK_THAT(smooth_root(-0.1, 1e-4, slope), WithinRel(-std::sqrt(0.1), 1e-6));
  CHECK_THAT(slope, WithinRel(0.5 / std::sqrt(0.1), 1e-5));
}

TEST_CASE("an orifice follows Torricelli") {
  double slope = 0;
  CHECK_THAT(orifice_flow(0.61, 1e-3, 0.2, slope), WithinRel(0.61e-3 * std::sqrt(2 * 9.81 * 0.2), 1e-6));
}

TEST_CASE("openings are wetted with the arc") {
  double slope = 0;
  CHECK(wetted_share(0.1, 0, slope) == 0);
  CHECK_THAT(wetted_share(0.1, 0.05, slope), WithinRel(0.5, 1e-12));
  CHECK_THAT(slope, WithinRel(2 / (std::numbers::pi * 0.1), 1e-12));
  CHECK_THAT(wetted_share(0.1, 0.025, slope), WithinRel(1.0 / 3, 1e-12));
  CHECK(wetted_share(0.1, 0.2, slope) == 1);
}

TEST_CASE("openings pass water both ways and none below the invert") {
  const Openings openings{1.0, 0.1, 1e-3};
  CHECK(openings_flow(openings, 0.99, 0.5).q == 0);
  CHECK(openings_flow(openings, 1.2, 1.2).q == 0);
  CHECK_THAT(openings_flow(openings, 1.3, 1.2).q, WithinRel(1e-3 * std::sqrt(0.1), 1e-5));
  CHECK_THAT(openings_flow(openings, 1.2, 1.3).q, WithinRel(-1e-3 * std::sqrt(0.1), 1e-5));
  // A half wetted pipe that is empty inside: head over the invert through half the openings.
  CHECK_THAT(openings_flow(openings, 1.05, 1.0).q, WithinRel(0.5e-3 * std::sqrt(0.05), 1e-5));
}

// Torricelli's head is that over the middle of the opening while it runs free, the difference of the levels
// once both stand over it.
TEST_CASE("a short pipe passes what its head gives, free and drowned, and as much the other way") {
  const double d = 0.125, area = std::numbers::pi / 4 * d * d, strength = 0.61 * area * std::sqrt(2 * 9.81);
  const Openings opening{1.0, d, strength};
  CHECK_THAT(short_pipe_flow(opening, 2.0, 1.7).q, WithinRel(0.61 * area * std::sqrt(2 * 9.81 * 0.3), 1e-6));
  CHECK_THAT(short_pipe_flow(opening, 1 + d, 0.5).q, WithinRel(0.61 * area * std::sqrt(9.81 * d), 1e-5));
  CHECK_THAT(short_pipe_flow(opening, 1.8, 0.5).q,
             WithinRel(0.61 * area * std::sqrt(2 * 9.81 * (0.8 - d / 2)), 1e-6));
  CHECK(short_pipe_flow(opening, 1.4, 1.4).q == 0);
  CHECK(short_pipe_flow(opening, 0.9, 0.5).q == 0);
  for (const auto& [a, b] : {std::pair(1.06, 1.01), std::pair(1.4, 1.2), std::pair(1.1, 1.09)})
    CHECK(short_pipe_flow(opening, a, b).q == -short_pipe_flow(opening, b, a).q);
  // No jump where the water beyond reaches the middle.
  CHECK_THAT(short_pipe_flow(opening, 1.1, 1.05 + 1e-9).q,
             WithinRel(short_pipe_flow(opening, 1.1, 1.05 - 1e-9).q, 1e-6));
}

TEST_CASE("the slopes of a short pipe are its derivatives") {
  const Openings opening{1.0, 0.1, 1e-3};
  const double step = 1e-8;
  for (const auto& [a, b] : {std::pair(1.06, 1.02), std::pair(1.06, 1.04), std::pair(1.03, 1.08),
                             std::pair(1.3, 1.1), std::pair(1.3, 1.02), std::pair(1.04, 0.9)}) {
    const Exchange2 at = short_pipe_flow(opening, a, b);
    CAPTURE(a, b);
    CHECK_THAT((short_pipe_flow(opening, a + step, b).q - short_pipe_flow(opening, a - step, b).q) /
                   (2 * step),
               WithinAbs(at.da, 1e-7));
    CHECK_THAT((short_pipe_flow(opening, a, b + step).q - short_pipe_flow(opening, a, b - step).q) /
                   (2 * step),
               WithinAbs(at.db, 1e-7));
  }
}

TEST_CASE("the slopes of the openings are their derivatives") {
  const Openings openings{1.0, 0.1, 1e-3};
  const double step = 1e-8;
  for (const auto& [a, b] :
       {std::pair(1.06, 1.02), std::pair(1.03, 1.08), std::pair(1.3, 1.1), std::pair(1.04, 0.9)}) {
    const Exchange2 at = openings_flow(openings, a, b);
    CHECK_THAT((openings_flow(openings, a + step, b).q - openings_flow(openings, a - step, b).q) / (2 * step),
               WithinRel(at.da, 1e-5));
    CHECK_THAT((openings_flow(openings, a, b + step).q - openings_flow(openings, a, b - step).q) / (2 * step),
               WithinAbs(at.db, 1e-7));
  }
}
