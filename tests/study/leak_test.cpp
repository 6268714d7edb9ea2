// A constant flow found from what was seen, against the balance of a yard that leaks at a known rate.
#include <lowspot/study/leak.hpp>

#include <cmath>

#include "catch.hpp"
#include "figures.hpp"
#include "simple_yard.hpp"

#include <lowspot/base/error.hpp>

using namespace lowspot;

namespace {

// Level soil, full to the ground, over a layer that leaks `leak` m/s; it shares its water sideways fast.
SimpleYard full_yard(double leak, int columns = 8, int rows = 6) {
  SimpleYard yard = simple_yard(columns, rows, 0.5, [](double, double) { return 0.0; });
  make_pervious(yard);
  add_whole_area(yard, "lawn");
  site::Soil& soil = yard.site.soils[0];
  soil.conductivity = {1e-3, 1e-3, 1e-3};
  soil.initial_moisture = soil.field_capacity;
  soil.tight_conductivity = {leak, leak, leak};
  soil.perched_start = 0.3;
  yard.site.storm.pattern = "blocks";
  yard.site.storm.blocks = {{600, 1e-9}};
  return yard;
}

site::Seen wet_without_rain(double days) {
  site::Seen seen;
  seen.name = "August";
  seen.area = "lawn";
  seen.lasted = days * 86400;
  return seen;
}

} // namespace

TEST_CASE("the flow that keeps level soil full is what leaks away under it") {
  const double leak = 1e-7, days = 12, area = 4.0 * 3.0;
  const SimpleYard yard = full_yard(leak);
  const study::LeakFinding finding = study::explain_seen(yard.site, yard.ground, wet_without_rain(days));
  CHECK_FALSE(finding.rain_explains);
  // Left alone the table falls 4 in as the soil above it drains to field capacity.
  const double drained = 0.1016 * (0.45 - 0.30);
  CHECK_THAT(finding.by_rain_alone, WithinRel(drained / leak, 0.05));
  figures::record("study", "level soil left alone", "hours wet", (drained / leak) * (1 / 3600.0),
                  (finding.by_rain_alone) * (1 / 3600.0), figures::share(0.05));
  // With a flow it falls as the difference: it must not fall 4 in in the time seen.
  const double exact = area * (leak - drained / (days * 86400));
  CHECK(finding.flow_low < exact * 1.06);
  CHECK(finding.flow_high > exact * 0.94);
  figures::record("study", "flow that keeps level soil full", "middle of the band found, L/h", exact * 3.6e6,
                  std::sqrt(finding.flow_low * finding.flow_high) * 3.6e6, figures::share(0.06));
  CHECK(finding.flow_high <= 1.1001 * finding.flow_low);
  CHECK_THAT(finding.sentence, ContainsSubstring("constant flow") && ContainsSubstring("L/min"));
  REQUIRE(finding.tests.size() == 4);
  CHECK_THAT(finding.tests[0], ContainsSubstring("meter"));
}

TEST_CASE("thin soil is soft when its upper half is full, and not before") {
  // Without rain the table falls: wet until it has left the upper half, not for as long as any of it is left.
  const double leak = 1e-8, depth = 0.1;
  SimpleYard yard = full_yard(leak);
  site::Soil& soil = yard.site.soils[0];
  soil.depth = {depth, depth, depth};
  soil.perched_start = depth;
  const study::LeakFinding finding = study::explain_seen(yard.site, yard.ground, wet_without_rain(20));
  const double drained = depth / 2 * (0.45 - 0.30);
  CHECK_THAT(finding.by_rain_alone, WithinRel(drained / leak, 0.05));
  CHECK_FALSE(finding.rain_explains);
  CHECK_FALSE(finding.tests.empty());
}

TEST_CASE("soil under a slab may be full: the slab is not wet for that") {
  SimpleYard yard = full_yard(0);
  REQUIRE(study::explain_seen(yard.site, yard.ground, wet_without_rain(5)).rain_explains);
  yard.ground.pervious.assign(yard.ground.grid.cells(), 0.0);
  yard.ground.slab_thickness.assign(yard.ground.grid.cells(), 0.1);
  yard.ground.base_depth.assign(yard.ground.grid.cells(), 0.1);
  yard.ground.natural_elevation = yard.ground.elevation;
  CHECK_FALSE(study::explain_seen(yard.site, yard.ground, wet_without_rain(5)).rain_explains);
}

TEST_CASE("where the soil stays full anyway, rain explains it") {
  const SimpleYard yard = full_yard(0);
  const study::LeakFinding finding = study::explain_seen(yard.site, yard.ground, wet_without_rain(5));
  CHECK(finding.rain_explains);
  CHECK(finding.runs == 1);
  CHECK(finding.flow_high == 0);
  CHECK(finding.tests.empty());
}

TEST_CASE("a puddle after rain: as long as the simulation says, rain explains it; longer, it does not") {
  SimpleYard yard = full_yard(1e-7);
  yard.site.soils[0].perched_start = 0;
  yard.site.soils[0].conductivity = {1e-6, 1e-6, 1e-6};
  site::Seen seen;
  seen.name = "March";
  seen.at = Point{2, 1.5};
  seen.rain = 0.06;
  seen.rain_duration = 3600;
  seen.lasted = 3600;
  // An hour was seen, and the simulation keeps it wet for more than the four hours that it looks at.
  const study::LeakFinding more = study::explain_seen(yard.site, yard.ground, seen);
  CHECK(more.rain_explains);
  CHECK(more.by_rain_alone >= 0.98 * 4 * 3600);
  CHECK_THAT(more.sentence,
             ContainsSubstring("more than was seen") && ContainsSubstring("more than about 4 h"));
  seen.lasted = 6 * 86400;
  const study::LeakFinding finding = study::explain_seen(yard.site, yard.ground, seen);
  CHECK_FALSE(finding.rain_explains);
  CHECK(finding.by_rain_alone > 3600);
  CHECK(finding.by_rain_alone < 4 * 86400);
  // Few shots miss a hollow between them, which holds water as well.
  CHECK_THAT(finding.sentence, ContainsSubstring("a hollow between the shots"));
  REQUIRE_FALSE(finding.tests.empty());
  CHECK_THAT(finding.tests[0], ContainsSubstring("straight board"));
  // In the end the whole level yard has to be kept full.
  CHECK(finding.flow_high > 0.5 * 12 * 1e-7);
  CHECK(finding.flow_low < 2 * 12 * 1e-7);
}

TEST_CASE("a place that is no open ground is refused") {
  const SimpleYard yard = full_yard(0);
  site::Seen seen = wet_without_rain(1);
  seen.area = "pond";
  CHECK_THROWS_AS(study::explain_seen(yard.site, yard.ground, seen), InputError);
}

TEST_CASE("a large flow is found up to the largest that is tried, and not above it") {
  // Level ground between walls: 5 cm stand on it in the end only where more comes than leaks out under all of
  // it. What fills the soil and the pond in the day is 1 % of that.
  const double area = 4.0 * 3.0;
  const auto flow_for = [&](double exact) {
    const double leak = exact / area;
    SimpleYard yard = full_yard(leak);
    site::Soil& soil = yard.site.soils[0];
    soil.conductivity = {3 * leak, 3 * leak, 3 * leak};
    yard.site.target.standing_depth = 0.05;
    site::Seen seen;
    seen.name = "March";
    seen.at = Point{2, 1.5};
    seen.rain = 1e-6;
    seen.rain_duration = 600;
    seen.lasted = 86400;
    return study::explain_seen(yard.site, yard.ground, seen);
  };
  for (const double exact : {0.6e-3, 1.1e-3, 2.5e-3}) {
    const study::LeakFinding finding = flow_for(exact);
    CAPTURE(exact, finding.sentence);
    CHECK_FALSE(finding.rain_explains);
    CHECK(finding.flow_low < 1.03 * exact);
    CHECK(finding.flow_high > 0.97 * exact);
    CHECK(finding.flow_high <= 1.1001 * finding.flow_low);
  }
  const study::LeakFinding none = flow_for(3.3e-3);
  CHECK_FALSE(none.rain_explains);
  CHECK(std::isnan(none.flow_high));
  CHECK_THAT(none.sentence, ContainsSubstring("No constant flow up to 180 L/min"));
}

TEST_CASE("a leak that no meter shows in a night is not to be ruled out by the meter") {
  // Thin soil on 2 by 1.5 m: what keeps its upper half full is 3 m2 times the leakage less what may drain.
  const double leak = 1e-8, depth = 0.1, days = 20;
  SimpleYard yard = full_yard(leak, 4, 3);
  site::Soil& soil = yard.site.soils[0];
  soil.depth = {depth, depth, depth};
  soil.perched_start = depth;
  const study::LeakFinding finding = study::explain_seen(yard.site, yard.ground, wet_without_rain(days));
  const double exact = 3 * (leak - depth / 2 * (0.45 - 0.30) / (days * 86400));
  CHECK(exact * 8 * 3600 < 1e-3); // less than a litre in a night
  CHECK_THAT(std::sqrt(finding.flow_low * finding.flow_high), WithinRel(exact, 0.1));
  REQUIRE_FALSE(finding.tests.empty());
  CHECK_THAT(finding.tests[0], ContainsSubstring("meter") && ContainsSubstring("does not show") &&
                                   !ContainsSubstring("is not it"));
}
