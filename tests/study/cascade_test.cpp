#include "catch.hpp"
#include "figures.hpp"

#include <cmath>

#include <lowspot/study/cascade.hpp>

using namespace lowspot::study;

namespace {
// Rain on fixed areas, all of it running off.
std::function<const std::vector<double>&(double)> on_areas(std::vector<double> areas) {
  return [areas, own = std::vector<double>()](double rain) mutable -> const std::vector<double>& {
    own = areas;
    for (double& each : own) each *= rain;
    return own;
  };
}
} // namespace

TEST_CASE("three pits in a row fill, merge and spill at the hours worked out by hand") {
  // A 12.0 and B 5.4 m3 merge to AB 33.6, which spills to C 13.2; 60 mm/h on 30, 30 and 36 m2.
  const Cascade pits(
      {{12.0, 2, {-1, -1}, 1}, {5.4, 2, {-1, -1}, 0}, {33.6, -1, {0, 1}, 3}, {13.2, -1, {-1, -1}, -1}});
  const auto own = on_areas({30, 30, 0, 36});
  const auto hours = [&](int basin) { return pits.rain_that_fills(basin, own, 10) / 0.06; };
  CHECK_THAT(hours(1), WithinAbs(3.0, 1e-9));
  figures::record("study", "three pits that fill, merge and spill", "hours of 60 mm/h that fill them", 3.0,
                  hours(1), figures::amount(1e-9));
  CHECK_THAT(hours(0), WithinAbs(29.0 / 6, 1e-9)); // 17.4 m3 on 60 m2
  figures::record("study", "three pits that fill, merge and spill", "hours of 60 mm/h that fill them",
                  29.0 / 6, hours(0), figures::amount(1e-9));
  CHECK_THAT(hours(2), WithinAbs(28.0 / 3, 1e-9));
  figures::record("study", "three pits that fill, merge and spill", "hours of 60 mm/h that fill them",
                  28.0 / 3, hours(2), figures::amount(1e-9));
  CHECK_THAT(hours(3), WithinAbs(55.0 / 9, 1e-9));
  figures::record("study", "three pits that fill, merge and spill", "hours of 60 mm/h that fill them",
                  55.0 / 9, hours(3), figures::amount(1e-9));
}

TEST_CASE("what a full one passes on fills the next; two that spill into each other come to an end") {
  // A chain: 1 m3 on 10 m2 above 2 m3 on 5 m2 above 5 m3 on nothing.
  const Cascade chain({{1, -1, {-1, -1}, 1}, {2, -1, {-1, -1}, 2}, {5, -1, {-1, -1}, -1}});
  const auto own = on_areas({10, 5, 0});
  CHECK_THAT(chain.rain_that_fills(0, own, 10), WithinAbs(0.1, 1e-11));
  CHECK_THAT(chain.rain_that_fills(1, own, 10), WithinAbs(3.0 / 15, 1e-11));
  CHECK_THAT(chain.rain_that_fills(2, own, 10), WithinAbs(8.0 / 15, 1e-11));
  const Cascade pair({{1, -1, {-1, -1}, 1}, {2, -1, {-1, -1}, 0}});
  const auto both = on_areas({10, 10});
  CHECK_THAT(pair.rain_that_fills(0, both, 10), WithinAbs(0.1, 1e-11));
  CHECK_THAT(pair.rain_that_fills(1, both, 10), WithinAbs(0.15, 1e-11));
  CHECK_THAT(pair.arrived(1, {5, 5}), WithinAbs(9, 1e-12));
}

TEST_CASE("a basin without ground of its own or above it never fills") {
  const Cascade alone({{1, -1, {-1, -1}, -1}});
  CHECK(std::isinf(alone.rain_that_fills(0, on_areas({0}), 5)));
}
