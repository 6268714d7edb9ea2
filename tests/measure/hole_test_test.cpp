#include "catch.hpp"
#include "figures.hpp"

#include <cmath>
#include <limits>
#include <stdexcept>

#include <lowspot/measure/hole_test.hpp>

using namespace lowspot::measure;

namespace {
constexpr double inch = 0.0254;
constexpr double minute = 60;
constexpr double in_per_hour = inch / 3600;

// Levels every `step` as the relation gives them, read without error.
HoleTest exact(double conductivity, double diameter, double depth, double step, int count,
               double sorptive = 12) {
  HoleTest test;
  test.diameter = diameter;
  test.presoak = full_presoak;
  for (int k = 0; k <= count; ++k)
    test.readings.push_back(
        {k * step, level_after({0.5 * diameter, sorptive}, depth, conductivity * step * k), false});
  return test;
}
} // namespace

TEST_CASE("Exact falling levels give back the conductivity, whatever the hole and the soil") {
  for (double conductivity : {0.02, 0.3, 5.0})
    for (double diameter : {4.0, 6.0, 12.0})
      for (double depth : {4.0, 12.0}) {
        const double k = conductivity * in_per_hour;
        // Readings that let an eighth of the water go each.
        const double step =
            conductivity_time({0.5 * diameter * inch, 12}, depth * inch, 0.875 * depth * inch) / k;
        const Finding finding = reduce(exact(k, diameter * inch, depth * inch, step, 4));
        CHECK(finding.outcome == Outcome::conductivity);
        CHECK_THAT(finding.conductivity.likely, WithinRel(k, 1e-6));
        figures::record("measure", "falling levels stepped from the relation, 18 holes", "conductivity, in/h",
                        k / in_per_hour, finding.conductivity.likely / in_per_hour, figures::share(1e-6));
        CHECK(finding.conductivity.low < 0.8 * k);
        CHECK(finding.conductivity.high > 1.2 * k);
        CHECK(!finding.slowing);
        CHECK_THAT(finding.raw_rate / finding.conductivity.likely, WithinRel(finding.overstated, 1e-12));
      }
}

TEST_CASE("A bare rate: an inch an hour in a 6-inch hole with 6 in of water is about a fourteenth of that") {
  HoleTest test;
  test.diameter = 6 * inch;
  test.rate = 1 * in_per_hour;
  test.rate_depth = 6 * inch;
  test.presoak = full_presoak;
  const Finding finding = reduce(test);
  CHECK(finding.overstated > 13.5);
  CHECK(finding.overstated < 15);
  CHECK_THAT(finding.conductivity.likely, WithinRel(in_per_hour / finding.overstated, 1e-12));
  CHECK(finding.conductivity.high < in_per_hour / 8);
  CHECK_THAT(finding.pull.sum(), WithinRel(finding.overstated, 1e-12));
}

TEST_CASE("The band covers soils whose suction is not the likely one") {
  for (double sorptive : {4.0, 36.0}) {
    const double k = 0.1 * in_per_hour;
    const Finding finding = reduce(exact(k, 6 * inch, 8 * inch, 1800, 4, sorptive));
    CHECK(finding.conductivity.low < k);
    CHECK(finding.conductivity.high > k);
  }
}

TEST_CASE("Without a presoak the likely value is lower and the band wider downwards") {
  HoleTest soaked = exact(0.2 * in_per_hour, 6 * inch, 8 * inch, 900, 4), dry = soaked, brief = soaked;
  dry.presoak = 0;
  brief.presoak = 3600;
  const Finding a = reduce(soaked), b = reduce(brief), c = reduce(dry);
  CHECK(a.excess == 1);
  CHECK(b.excess > 1);
  CHECK(c.excess > b.excess);
  CHECK(c.conductivity.likely < b.conductivity.likely);
  CHECK(b.conductivity.likely < a.conductivity.likely);
  CHECK(c.conductivity.low < a.conductivity.low);
  CHECK_THAT(c.conductivity.likely * c.excess, WithinRel(a.conductivity.likely, 1e-12));
  // Dry ground has more to fill, a smaller bulb, and so more to take off.
  HoleTest parched = dry;
  parched.fillable = {0.15, 0.25, 0.35};
  CHECK(reduce(parched).conductivity.likely < c.conductivity.likely);
  // What was not there to take off is within the band: the uncorrected value.
  CHECK(c.conductivity.high > a.conductivity.likely);
}

TEST_CASE("Early readings that fall faster are left out, and said so") {
  const double k = 0.1 * in_per_hour;
  HoleTest test = exact(k, 6 * inch, 6 * inch, 1800, 4);
  // Two readings before these in which the soil took three times as much.
  HoleTest whole = test;
  whole.readings.clear();
  const AugerHole hole{3 * inch, 12};
  double level = 10 * inch;
  whole.readings.push_back({0, level, false});
  for (int n = 1; n <= 2; ++n) {
    level = level_after(hole, level, 3 * k * 1800);
    whole.readings.push_back({n * 1800.0, level, false});
  }
  for (int n = 1; n <= 4; ++n) {
    level = level_after(hole, level, k * 1800);
    whole.readings.push_back({(2 + n) * 1800.0, level, false});
  }
  const Finding finding = reduce(whole);
  CHECK(finding.slowing);
  CHECK_THAT(finding.conductivity.likely, WithinRel(k, 1e-6));
}

TEST_CASE("A hole that is filled up again between readings begins a new fall") {
  const double k = 0.5 * in_per_hour;
  HoleTest test = exact(k, 6 * inch, 8 * inch, 1800, 2);
  const double low = test.readings.back().water_depth;
  test.readings.push_back({3700, 8 * inch, true});
  test.readings.push_back({3700 + 1800, test.readings[1].water_depth, false});
  REQUIRE(low < 8 * inch);
  const Finding finding = reduce(test);
  CHECK(finding.outcome == Outcome::conductivity);
  CHECK_THAT(finding.conductivity.likely, WithinRel(k, 1e-6));
}

TEST_CASE("Perched water is recognised: a level that rises, and one that comes to rest above the bottom") {
  HoleTest rising = exact(0.2 * in_per_hour, 6 * inch, 6 * inch, 1800, 3);
  rising.readings.push_back({7200, rising.readings.back().water_depth + 0.02, false});
  CHECK(reduce(rising).outcome == Outcome::perched);
  CHECK(reduce(rising).rose);

  // Falls to a table that stands 3 in over the bottom: exponential approach.
  HoleTest resting;
  resting.diameter = 6 * inch;
  for (int n = 0; n <= 10; ++n)
    resting.readings.push_back({n * 20 * minute, (3 + 6 * std::exp(-0.9 * n)) * inch, false});
  const Finding finding = reduce(resting);
  CHECK(finding.outcome == Outcome::perched);
  CHECK(!finding.rose);
  CHECK_THAT(finding.resting_at, WithinAbs(3 * inch, 0.002));

  // Slow soil is not perched: it falls as slowly at the start as at the end.
  const Finding slow = reduce(exact(0.01 * in_per_hour, 6 * inch, 8 * inch, 3600, 6));
  CHECK(slow.outcome == Outcome::conductivity);
}

TEST_CASE("No fall at all is no conductivity, only an upper end that longer reading lowers") {
  HoleTest test;
  test.diameter = 6 * inch;
  test.readings = {{0, 0.15, false}, {1800, 0.15, false}};
  const Finding brief = reduce(test);
  CHECK(brief.outcome == Outcome::no_fall);
  test.readings.push_back({18000, 0.15, false});
  const Finding patient = reduce(test);
  CHECK(patient.outcome == Outcome::no_fall);
  CHECK_THAT(patient.conductivity.high, WithinRel(brief.conductivity.high / 10, 1e-9));
}

TEST_CASE("Water that stands in another layer is left out") {
  HoleTest test = exact(0.1 * in_per_hour, 6 * inch, 10 * inch, 3600, 6);
  test.most_water_depth = 9 * inch;
  CHECK_THAT(reduce(test).conductivity.likely, WithinRel(0.1 * in_per_hour, 1e-6));
  CHECK(reduce(test).water_depth < 9 * inch);
  test.most_water_depth = 1 * inch;
  CHECK(reduce(test).outcome == Outcome::other_layer);
  HoleTest rate;
  rate.diameter = 6 * inch, rate.rate = 1e-6, rate.rate_depth = 0.2, rate.most_water_depth = 0.1;
  CHECK(reduce(rate).outcome == Outcome::other_layer);
}

TEST_CASE("Coarser readings widen the band, longer falls narrow it") {
  HoleTest test = exact(0.1 * in_per_hour, 6 * inch, 8 * inch, 1200, 3);
  const auto width = [](const Finding& f) { return f.conductivity.high / f.conductivity.low; };
  const double usual = width(reduce(test));
  test.reading_error = 0.006;
  CHECK(width(reduce(test)) > usual);
}

TEST_CASE("Tests that cannot be reduced are refused") {
  CHECK_THROWS_AS(reduce(HoleTest{}), std::invalid_argument);
  HoleTest test = exact(1e-6, 0.15, 0.2, 600, 3);
  test.readings[2].time = 0;
  CHECK_THROWS_AS(reduce(test), std::invalid_argument);
  const double endless = std::numeric_limits<double>::infinity(), none = std::nan("");
  const auto refused = [](auto spoil) {
    HoleTest spoilt = exact(1e-6, 0.15, 0.2, 600, 3);
    CHECK_NOTHROW(reduce(spoilt));
    spoil(spoilt);
    CHECK_THROWS_AS(reduce(spoilt), std::invalid_argument);
  };
  for (const double bad : {endless, none, -1.0}) {
    refused([&](HoleTest& t) { t.readings.front().water_depth = bad; });
    refused([&](HoleTest& t) { t.readings.back().water_depth = bad; });
    refused([&](HoleTest& t) { t.readings.back().time = bad; });
    refused([&](HoleTest& t) { t.diameter = bad; });
    refused([&](HoleTest& t) { t.fillable.likely = bad; });
    refused([&](HoleTest& t) { t.sorptive_number.high = bad; });
    refused([&](HoleTest& t) { t.presoak = bad; });
    refused([&](HoleTest& t) { t.reading_error = bad; });
    refused([&](HoleTest& t) { t.rate = 1e-5, t.rate_depth = bad; });
  }
  refused([&](HoleTest& t) { t.rate = endless, t.rate_depth = 0.1; });
}

TEST_CASE("Slow clay under quick topsoil is no perched water: rest is looked for within one layer") {
  HoleTest test; // the clay begins 10 in above the bottom, half an inch is how well that is known
  test.diameter = 6 * inch;
  test.presoak = full_presoak;
  test.most_water_depth = 10.5 * inch;
  const double levels[] = {16, 12.6875, 10.9375, 10.0625, 9.9375, 9.875, 9.8125, 9.75};
  for (int n = 0; n < 8; ++n)
    test.readings.push_back({(n < 4 ? n * 10 : 30 + (n - 3) * 30) * minute, levels[n] * inch, false});
  const Finding finding = reduce(test);
  CHECK(finding.outcome == Outcome::conductivity);
  CHECK(finding.conductivity.low < 0.006 * in_per_hour);
  CHECK(finding.conductivity.high > 0.005 * in_per_hour);
  // A level that comes to rest within the clay is perched water all the same, and so is one that rises.
  HoleTest resting = test;
  resting.readings.clear();
  for (int n = 0; n <= 10; ++n)
    resting.readings.push_back({n * 20 * minute, (3 + 6 * std::exp(-0.9 * n)) * inch, false});
  CHECK(reduce(resting).outcome == Outcome::perched);
  test.readings.push_back({10000, 14 * inch, false});
  CHECK(reduce(test).rose);
}

TEST_CASE("A hole that ran dry gives the least that the ground conducts, and a wide band above it") {
  HoleTest test; // 2 in/h empties 6 in of water in less than half an hour
  test.diameter = 6 * inch;
  test.presoak = full_presoak;
  test.readings = {{0, 6 * inch, false}, {30 * minute, 0, false}};
  const double k = 2 * in_per_hour;
  REQUIRE(conductivity_time({3 * inch, 12}, 6 * inch, 0) < k * 30 * minute);
  const Finding once = reduce(test);
  CHECK(once.outcome == Outcome::conductivity);
  CHECK(once.emptied);
  const double least = conductivity_time({3 * inch, 12}, 6 * inch, 0) / (30 * minute);
  CHECK_THAT(once.conductivity.likely, WithinRel(2 * least, 1e-9));
  CHECK(once.conductivity.low < k);
  CHECK(once.conductivity.high > 5 * once.conductivity.likely);
  // Looking into the empty hole again changes nothing.
  test.readings.push_back({60 * minute, 0, false});
  test.readings.push_back({90 * minute, 0, false});
  CHECK(reduce(test).conductivity.likely == once.conductivity.likely);
}

TEST_CASE("Falls that were seen whole count before one that ended dry, unless it was quicker") {
  const double k = 2 * in_per_hour;
  HoleTest test = exact(k, 6 * inch, 6 * inch, 5 * minute, 4);
  REQUIRE(test.readings.back().water_depth > 0);
  test.readings.push_back({60 * minute, 0, false});
  CHECK(!reduce(test).emptied);
  CHECK_THAT(reduce(test).conductivity.likely, WithinRel(k, 1e-6));
  HoleTest still; // no fall in the first minute, then gone
  still.diameter = 6 * inch;
  still.readings = {{0, 6 * inch, false}, {minute, 6 * inch, false}, {30 * minute, 0, false}};
  CHECK(reduce(still).emptied);
}

TEST_CASE("A hole without water says nothing") {
  HoleTest test;
  test.diameter = 6 * inch;
  test.readings = {{0, 0, false}, {1800, 0, false}, {3600, 0, false}};
  CHECK(reduce(test).outcome == Outcome::empty);
}
