// The reference itself, before anything is compared with it: equilibrium, unit gradient, mass, the sharp
// front.
#include "catch.hpp"
#include "richards.hpp"

#include <lowspot/soil/green_ampt.hpp>

namespace {
constexpr double mm = 1e-3;
constexpr double hour = 3600;
constexpr double mm_h = mm / hour;

const richards::Soil loam{3.4 * mm_h, 0.463, 0.027, 0.22, 0.0558};

// The suction of a front that runs into dry soil: the integral of K/Ks over the suction (Neuman 1976).
double suction_of(const richards::Soil& soil) {
  const double index = 3 * soil.pore_size_index;
  return soil.air_entry * (2 + index) / (1 + index);
}
} // namespace

TEST_CASE("Reference: water at rest over a table stays at rest") {
  richards::Column column(loam, 1.0, 0.3, richards::Bottom::closed);
  for (std::size_t k = 0; k < column.cells(); ++k) column.head()[k] = column.centre(k) - 0.8;
  const std::vector<double> before = column.head();
  column.rain(0, 24 * hour);
  double most = 0;
  for (std::size_t k = 0; k < column.cells(); ++k)
    most = std::max(most, std::abs(column.head()[k] - before[k]));
  CHECK(most < 1e-9);
  CHECK(column.drained == 0);
}

TEST_CASE("Reference: a long drizzle ends at unit gradient, K(content) = rate") {
  const double rate = 0.2 * loam.conductivity;
  richards::Column column(loam, 0.6, 0.3, richards::Bottom::free_drainage);
  column.rain(rate, 400 * hour);
  const double expected = richards::state_at(loam, richards::head_passing(loam, rate)).content;
  for (std::size_t k = 0; k < column.cells(); ++k) CHECK_THAT(column.content(k), WithinAbs(expected, 1e-6));
  CHECK(column.runoff == 0);
}

TEST_CASE("Reference: mass is kept through a burst, a pause and another burst") {
  richards::Column column(loam, 1.0, 0.25, richards::Bottom::free_drainage);
  const double start = column.water();
  column.rain(60 * mm_h, hour);
  column.rain(0, 12 * hour);
  column.rain(30 * mm_h, hour);
  CHECK(column.runoff > 10 * mm);
  CHECK_THAT(column.infiltrated + column.runoff, WithinAbs(90 * mm, 1e-12));
  CHECK_THAT(column.water() - start, WithinAbs(column.infiltrated - column.drained, 1e-9));
}

TEST_CASE("Reference: with pores of one size the front is sharp and follows Green and Ampt") {
  // As the pore-size index grows retention becomes a step, for which their law is the solution.
  double previous = 1;
  for (double index : {1.0, 3.0, 9.0}) {
    const richards::Soil soil{10 * mm_h, 0.45, 0.05, index, 0.10};
    richards::Column column(soil, 0.6, 0.10, richards::Bottom::free_drainage, {1e-3, 2e-3, 1.01});
    column.rain(60 * mm_h, 2 * hour);
    const double law = lowspot::soil::infiltrated_under_supply(soil.conductivity, suction_of(soil) * 0.35, 0,
                                                               60 * mm_h, 2 * hour);
    const double error = std::abs(column.infiltrated / law - 1);
    CHECK(error < previous);
    previous = error;
  }
  CHECK(previous < 0.01);
}

TEST_CASE("Reference: halving cells and steps changes the answer by less and less") {
  double answers[3];
  for (int level = 0; level < 3; ++level) {
    const double scale = 1.0 / (1 << level);
    richards::Options options{2e-3 * scale, 8e-3 * scale, 1.02, 0.03 * scale};
    richards::Column column(loam, 0.6, 0.25, richards::Bottom::free_drainage, options);
    column.rain(60 * mm_h, hour);
    answers[level] = column.infiltrated;
  }
  CHECK(std::abs(answers[2] - answers[1]) < 0.7 * std::abs(answers[1] - answers[0]));
  CHECK(std::abs(answers[2] - answers[1]) < 0.005 * answers[2]);
}
