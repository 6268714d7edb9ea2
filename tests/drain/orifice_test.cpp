#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>
#include <vector>

#include <lowspot/drain/orifice.hpp>

#include "catch.hpp"

using namespace lowspot::drain;

namespace {

// What the quadrature may be off by, and what the smooth root takes off at this head.
double near(double head) {
  return 1e-4 + 0.3 * std::pow(orifice_blur / head, 2);
}

} // namespace

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

// An empty pipe in water to a share m of its diameter takes 2 / pi sqrt(diameter) [E - (1 - m) K], K and E
// the complete elliptic integrals of the first and second kind; under water to m diameters, m > 1, it takes
// 2 / pi sqrt(depth) E of 1 / m.
TEST_CASE("openings around an empty pipe take Torricelli's flow over the wetted arc") {
  const double d = 0.1, strength = 1e-3;
  const Openings openings{1.0, d, strength};
  for (const double m :
       {0.03, 0.1, 0.25, 0.5, 0.75, 0.9, 0.97, 0.99, 0.999, 1.0, 1.001, 1.01, 1.1, 2.0, 8.0}) {
    const double root = std::sqrt(std::min(m, 1 / m));
    const double e = std::comp_ellint_2(root), k = m == 1 ? 0 : std::comp_ellint_1(root);
    const double exact =
        2 / std::numbers::pi * strength * std::sqrt(d) * (m <= 1 ? e - (1 - m) * k : std::sqrt(m) * e);
    CAPTURE(m);
    const double q = openings_flow(openings, 1 + m * d, 0.5).q;
    CHECK_THAT(q, WithinRel(exact, near(m * d)));
    CHECK(openings_flow(openings, 0.5, 1 + m * d).q == -q);
  }
}

// Integrated over 100 000 pieces of the arc.
TEST_CASE("openings that stand partly in the water of the pipe work under the head between the levels") {
  const double d = 0.15, strength = 2e-3;
  const Openings openings{10, d, strength};
  for (const double high : {0.01, 0.04, 0.075, 0.11, 0.145, 0.15, 0.155, 0.3, 1.0})
    for (const double share : {0.05, 0.3, 0.6, 0.9, 0.98}) {
      const double low = share * high;
      if (high - low < 2e-3) continue; // so little head is made smooth
      double exact = 0;
      const int pieces = 100000;
      for (int k = 0; k < pieces; ++k) {
        const double sine = std::sin(std::numbers::pi / 2 * (k + 0.5) / pieces), z = d * sine * sine;
        if (z < high) exact += strength / pieces * std::sqrt(high - std::max(z, low));
      }
      CAPTURE(high, low);
      CHECK_THAT(openings_flow(openings, 10 + high, 10 + low).q, WithinRel(exact, near(high - low)));
      CHECK_THAT(openings_flow(openings, 10 + low, 10 + high).q, WithinRel(-exact, near(high - low)));
    }
}

// 1/2 depth / sqrt(diameter): the arc goes with the root of a small depth, and so does the speed.
TEST_CASE("a film around an empty pipe enters in proportion to its depth") {
  const Openings openings{0, 0.1, 1e-3};
  CHECK_THAT(openings_flow(openings, 1e-3, -1).q, WithinRel(0.5e-3 * 1e-3 / std::sqrt(0.1), 5e-3));
  CHECK_THAT(openings_flow(openings, 2e-3, -1).q, WithinRel(0.5e-3 * 2e-3 / std::sqrt(0.1), 5e-3));
}

TEST_CASE("openings pass water both ways and none below the invert") {
  const Openings openings{1.0, 0.1, 1e-3};
  CHECK(openings_flow(openings, 0.99, 0.5).q == 0);
  CHECK(openings_flow(openings, 1.2, 1.2).q == 0);
  CHECK_THAT(openings_flow(openings, 1.3, 1.2).q, WithinRel(1e-3 * std::sqrt(0.1), 1e-5));
  CHECK_THAT(openings_flow(openings, 1.2, 1.3).q, WithinRel(-1e-3 * std::sqrt(0.1), 1e-5));
}

TEST_CASE("flow through openings rises with the level outside and falls with that inside") {
  const Openings openings{0, 0.1, 1};
  std::vector<double> levels = {-0.01};
  for (int k = 0; k <= 260; ++k) levels.push_back(0.13 * k / 260 + 1e-7 * (k % 3));
  for (const double other : {0.0, 1e-5, 0.02, 0.05, 0.0999, 0.1, 0.11})
    for (std::size_t k = 1; k < levels.size(); ++k) {
      CAPTURE(levels[k], other);
      CHECK(openings_flow(openings, levels[k], other).q >= openings_flow(openings, levels[k - 1], other).q);
      CHECK(openings_flow(openings, other, levels[k]).q <= openings_flow(openings, other, levels[k - 1]).q);
    }
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
  // Half of its height wetted, half of its circle open; a tenth wetted, 5.2044 % of it.
  CHECK_THAT(short_pipe_flow(opening, 1 + d / 2, 0.5).q,
             WithinRel(0.61 * 0.5 * area * std::sqrt(2 * 9.81 * d / 4), 1e-5));
  CHECK_THAT(short_pipe_flow(opening, 1 + d / 10, 0.5).q,
             WithinRel(0.61 * 0.052044 * area * std::sqrt(2 * 9.81 * d / 20), 1e-4));
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
  for (const auto& [a, b] : {std::pair(1.06, 1.02), std::pair(1.03, 1.08), std::pair(1.3, 1.1),
                             std::pair(1.04, 0.9), std::pair(1.13, 1.07), std::pair(1.05, 1.0500005),
                             std::pair(1.0004, 1.0002), std::pair(1.2, 1.001)}) {
    const Exchange2 at = openings_flow(openings, a, b);
    CHECK_THAT((openings_flow(openings, a + step, b).q - openings_flow(openings, a - step, b).q) / (2 * step),
               WithinRel(at.da, 1e-5));
    CHECK_THAT((openings_flow(openings, a, b + step).q - openings_flow(openings, a, b - step).q) / (2 * step),
               WithinAbs(at.db, 1e-7));
  }
}
