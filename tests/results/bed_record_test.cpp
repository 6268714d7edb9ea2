#include "catch.hpp"
#include "simple_yard.hpp"

#include <lowspot/results/bed_record.hpp>

using namespace lowspot;

TEST_CASE("a bed dries at the rate its plants drink, and the days below half are counted") {
  SimpleYard yard = simple_yard(4, 4, 1.0, [](double, double) { return 1.0; });
  make_pervious(yard);
  add_whole_area(yard, "bed");
  yard.site.areas[0].plants = site::Plants{"shrubs", 0.3, 1.0, 0.5, "low"};
  yard.ground.cover.assign(16, 0);
  yard.site.storm.reference_et = 4e-3 / 86400;
  yard.site.soils[0].field_capacity = yard.site.soils[0].initial_moisture = 0.32; // 60 mm available in 0.3 m
  yard::Yard run(yard.site, yard.ground, yard.rain, nullptr);
  results::BedRecorder beds(run);
  struct Watch : yard::Observer {
    explicit Watch(results::BedRecorder& beds_) : beds(beds_) {}
    void step_done(const yard::Yard& now, const yard::StepFlows& flows) override { beds.step(now, flows.dt); }
    results::BedRecorder& beds;
  } watch(beds);
  run.advance(5 * 86400.0, &watch);
  // 4 mm/d until half of the 60 mm is gone at day 7.5: 20 mm after five days.
  CHECK_THAT(beds.series(run)[0].second, WithinRel(0.020, 5e-3));
  CHECK(beds.series(run)[0].first == "bed:bed:depletion_m");
  CHECK(beds.finish(run)[0].days_below_half_available_water == 0);
  run.advance(10 * 86400.0, &watch);
  CHECK_THAT(beds.finish(run)[0].days_below_half_available_water, WithinAbs(2.5, 0.05));
  CHECK(beds.finish(run)[0].soggy_hours == 0);
  CHECK_FALSE(beds.finish(run)[0].still_soggy);
  CHECK_FALSE(beds.finish(run)[0].spell_open);
}

TEST_CASE("a bed under a table up to the ground is soggy all the time") {
  SimpleYard yard = simple_yard(3, 3, 1.0, [](double, double) { return 1.0; });
  make_pervious(yard);
  add_whole_area(yard, "bed");
  yard.site.areas[0].plants = site::Plants{"shrubs", 0.3, 0.0, 0.5, "low"};
  yard.ground.cover.assign(9, 0);
  yard.site.soils[0].perched_start = 0.3;
  yard::Yard run(yard.site, yard.ground, yard.rain, nullptr);
  results::BedRecorder beds(run);
  beds.step(run, 7200);
  CHECK_THAT(beds.finish(run)[0].soggy_hours, WithinAbs(2, 1e-12));
  CHECK(beds.finish(run)[0].still_soggy);
  CHECK(beds.finish(run)[0].spell_open);
  CHECK_THAT(results::root_moisture(run)[0], WithinAbs(0.45, 1e-6));
}
