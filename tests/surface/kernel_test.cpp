#include <lowspot/surface/kernel.hpp>

#include <cmath>
#include <vector>

#include <lowspot/surface/frame.hpp>
#include <lowspot/surface/friction.hpp>
#include <lowspot/surface/workspace.hpp>

#include "catch.hpp"

using namespace lowspot::surface;

TEST_CASE("Roots without library calls", "[surface]") {
  for (double x = 1e-9; x < 1e4; x *= 1.37) {
    CHECK_THAT(inverse_cube_root(x), WithinRel(1 / std::cbrt(x), 1e-9));
    const float narrow = static_cast<float>(x);
    CHECK_THAT(inverse_cube_root(narrow), WithinRel(1 / std::cbrt(double(narrow)), 3e-7));
    CHECK_THAT(inverse_root(narrow), WithinRel(1 / std::sqrt(double(narrow)), 2e-7));
    CHECK_THAT(rough_inverse(narrow), WithinRel(1 / double(narrow), 0.13));
  }
  CHECK(0.0f * inverse_root(0.0f) == 0.0f);
}

TEST_CASE("Exponential without a library call", "[surface]") {
  CHECK(exponential(0.0f) == 1.0f);
  for (double x = -20; x < 20; x += 0.0137) {
    const float narrow = static_cast<float>(x);
    CHECK_THAT(exponential(narrow), WithinRel(std::exp(double(narrow)), 3e-7));
  }
}

TEST_CASE("Roughness of a row of vegetation", "[surface]") {
  const int n = 40;
  std::vector<float> mobile(n), thin(n), ratio(n), bend(n), n_squared(n), softening(n);
  for (int i = 0; i < n; ++i) {
    mobile[i] = 0.004f * static_cast<float>(i);
    thin[i] = 0.09f;
    ratio[i] = -3.2f;
    bend[i] = i % 5 == 0 ? 0.0f : 1 / (1.5f * 0.06f); // every fifth cell is bare
  }
  roughness_row(
      {mobile.data(), thin.data(), ratio.data(), bend.data(), n_squared.data(), softening.data(), n});
  for (int i = 0; i < n; ++i) {
    CAPTURE(i);
    const double height = i % 5 == 0 ? 0.0 : 0.06;
    const auto at = [&](double depth) { return roughness_at(depth, 0.09, -3.2, height); };
    CHECK_THAT(n_squared[i], WithinRel(at(mobile[i]), 1e-6));
    const double falls = (at(mobile[i] - 1e-5) - at(mobile[i] + 1e-5)) / 2e-5 / at(mobile[i]);
    if (i % 5 != 0 && mobile[i] > 0.03f && mobile[i] < 0.119f)
      CHECK_THAT(softening[i], WithinRel(falls, 1e-4));
    else
      CHECK(softening[i] == 0);
  }
}

// q (1 + b sqrt(q^2 + t^2)) = x by bisection.
static double exact_discharge(double x, double b, double t) {
  double low = 0, high = x;
  for (int k = 0; k < 200; ++k) {
    const double q = 0.5 * (low + high);
    (q * (1 + b * std::hypot(q, t)) < x ? low : high) = q;
  }
  return low;
}

TEST_CASE("Implicit friction", "[surface]") {
  for (const float b : {1e-3f, 1.0f, 1e3f, 1e6f})
    for (const float t : {0.0f, 1e-6f, 1e-3f, 0.1f}) {
      const float x = 0.02f;
      const double exact = exact_discharge(x, b, t);
      const float old = static_cast<float>(exact);
      CAPTURE(b, t);
      // Steady: the old discharge is the answer.
      CHECK_THAT(discharge_against_friction(x, b, t, old), WithinRel(exact, 5e-7));
      CHECK_THAT(discharge_against_friction(-x, b, -t, -old), WithinRel(-exact, 5e-7));
      // Ten per cent off: an error of second order, and never below the solution.
      const double near = discharge_against_friction(x, b, t, 1.1f * old);
      CHECK_THAT(near, WithinRel(exact, 0.01));
      CHECK(near > exact * (1 - 5e-7));
      // No old discharge: the next steps come down to the solution.
      float q = 0;
      for (int k = 0; k < 6; ++k) q = discharge_against_friction(x, b, t, q);
      CHECK_THAT(q, WithinRel(exact, 1e-6));
    }
  CHECK(discharge_against_friction(0.0f, 1.0f, 0.0f, 0.0f) == 0);
}

TEST_CASE("Rates are taken over where cells are active", "[surface]") {
  const int n = 37;
  std::vector<double> rates(n, 2e-5), taken(n, 1.0);
  std::vector<unsigned char> active(n, 1);
  rates[20] = 3e-5;
  rates[30] = 1.0;
  active[30] = 0;
  rates[31] = -0.0;
  double most = 1e-5;
  CHECK(take_rates(rates.data(), active.data(), taken.data(), n, most));
  CHECK(most == 3e-5);
  CHECK(taken[0] == 2e-5);
  CHECK(taken[30] == 0);
  CHECK(taken[31] == 0);
  for (const double wrong : {-1e-9, std::nan("")}) {
    rates[30] = wrong; // on an inactive cell it does not matter
    CHECK(take_rates(rates.data(), active.data(), taken.data(), n, most));
    rates[5] = wrong;
    CHECK(!take_rates(rates.data(), active.data(), taken.data(), n, most));
    rates[5] = 0;
  }
}

TEST_CASE("What is no finite number is found anywhere", "[surface]") {
  for (std::size_t k = 0; k < 37; ++k)
    for (const double wrong : {std::nan(""), -std::nan(""), HUGE_VAL, -HUGE_VAL}) {
      std::vector<double> values(37, 1e300);
      values[3] = 0;
      values[4] = 5e-324;
      CHECK(all_finite(values.data(), 37));
      values[k] = wrong;
      CHECK(!all_finite(values.data(), 37));
    }
}

TEST_CASE("Outflows take no more than there is", "[surface]") {
  const int n = 5;
  std::vector<float> q_x(n + 1, 0.0f), south(n, 0.0f), north(n, 0.0f), mobile(n, 0.002f), share(n, 1.0f);
  std::vector<double> storage(n, 0.001), bed(n, 1.0), supply(n, 0.0), sink(n, 0.0), depth(n, 0.003),
      level(n, 1.002), taken(n, 0.0);
  std::vector<float> change(n, 0.0f);
  CellRow row;
  row.q_x = q_x.data();
  row.q_south = south.data();
  row.q_north = north.data();
  row.storage = storage.data();
  row.bed = bed.data();
  row.supply = supply.data();
  row.sink = sink.data();
  row.depth = depth.data();
  row.level = level.data();
  row.taken = taken.data();
  row.mobile = mobile.data();
  row.change = change.data();
  row.share = share.data();
  row.count = n;
  const StepNumbers numbers{0.1, 10.0, 0.25, 3.67, 0.1, 0.1};
  q_x[3] = 0.0015f; // out of cell 2 to the east
  CHECK_FALSE(overdrawn(row, numbers));
  q_x[2] = -0.0025f; // and to the west: 0.004 asked, 0.002 there
  CHECK(overdrawn(row, numbers));
  limit_row(row, numbers);
  CHECK_THAT(share[2], WithinRel(0.5, 2e-6));
  CHECK(share[1] == 1.0f);
  scale_row(q_x.data() + 1, share.data(), share.data() + 1, n - 1);
  CHECK_THAT(q_x[3], WithinRel(0.00075, 2e-6));
  supply[0] = 0.02;
  sink[0] = 0.01;
  sink[4] = 1.0; // more than there is
  const double deepest = update_row(row, numbers);
  CHECK_THAT(depth[2], WithinRel(0.001, 2e-6)); // what cannot flow stays
  CHECK(depth[2] >= 0.001);
  CHECK_THAT(depth[1], WithinRel(0.003 + 0.00125, 2e-6));
  CHECK_THAT(depth[0], WithinRel(0.004, 1e-12));
  CHECK(depth[4] == 0);
  CHECK_THAT(taken[4], WithinRel(0.003, 1e-12)); // sinks reach what cannot flow
  CHECK_THAT(deepest, WithinRel(0.00325, 2e-6));
  CHECK(level[4] == 1.0);
  // What left the one cell reached the others, to the last bit.
  CHECK(std::abs((depth[1] - 0.003) + (depth[2] - 0.003) + (depth[3] - 0.003)) < 1e-18);
}

TEST_CASE("Sums of what crosses a row of faces go on from those before", "[surface]") {
  const int n = 19;
  std::vector<double> before(n), sum(n, 7.0);
  std::vector<float> q(n);
  for (int k = 0; k < n; ++k) {
    before[k] = 0.1 * k;
    q[k] = 0.25f * static_cast<float>(k % 5 - 2);
  }
  add_row(before.data(), q.data(), 0.5, sum.data(), n - 1);
  add_row(sum.data(), q.data(), 0.5, sum.data(), n - 1);
  for (int k = 0; k + 1 < n; ++k) {
    CHECK(before[k] == 0.1 * k);
    CHECK_THAT(sum[k], WithinAbs(before[k] + q[k], 1e-15));
  }
  CHECK(sum[n - 1] == 7.0);
}
