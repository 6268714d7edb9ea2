#include <cmath>

#include "catch.hpp"
#include "simple_yard.hpp"

#include <lowspot/study/season.hpp>

using namespace lowspot;

namespace {
SimpleYard planted_yard() {
  SimpleYard yard = simple_yard(6, 6, 0.5, [](double x, double) { return 1.0 - 0.01 * x; });
  make_pervious(yard);
  add_whole_area(yard, "bed");
  yard.site.areas[0].plants = site::Plants{"shrubs", 0.3, 1.0, 0.5, "low"};
  yard.ground.cover.assign(36, 0);
  yard.site.soils[0].field_capacity = yard.site.soils[0].initial_moisture = 0.32; // 60 mm for plants in 0.3 m
  yard.site.season.dry_spell = 30 * 86400.0;
  yard.site.season.reference_et = 4e-3 / 86400;
  return yard;
}
} // namespace

TEST_CASE("a dry spell after the storm starts from what the storm left and is recorded by the day") {
  const SimpleYard yard = planted_yard();
  yard::Yard run(yard.site, yard.ground, yard.rain, nullptr);
  run.advance(3600);
  results::DesignRecord record;
  study::run_season(yard.site, yard.ground, nullptr, run, record);
  REQUIRE(record.season_beds.size() == 1);
  CHECK_THAT(run.time(), WithinRel(3600 + 30 * 86400.0, 1e-12));
  REQUIRE(record.season_time.size() == 31);
  CHECK_THAT(record.season_time.back(), WithinRel(30 * 86400.0, 1e-12));
  // FAO-56: at full rate for 7.5 days, then 30 mm exp(-(t - 7.5 d) 4 mm/d / 30 mm).
  CHECK_THAT(record.season_series[1].values[5], WithinRel(40.0 / 60, 1e-2));
  CHECK_THAT(record.season_series[1].values[30], WithinRel(0.5 * std::exp(-22.5 * 4 / 30), 1e-2));
  CHECK_THAT(record.season_beds[0].days_below_half_available_water, WithinAbs(22.5, 0.15));
  CHECK_THAT(record.season_beds[0].budget.drunk, WithinRel(0.060 - 0.030 * std::exp(-3.0), 1e-3));
  CHECK_THAT(record.season_beds[0].budget.change, WithinRel(-record.season_beds[0].budget.drunk, 1e-9));
}

TEST_CASE("a season with a start of its own leaves the storm's yard alone") {
  SimpleYard yard = planted_yard();
  yard.site.season.start = site::StartMoisture::dry;
  yard::Yard run(yard.site, yard.ground, yard.rain, nullptr);
  results::DesignRecord record;
  study::run_season(yard.site, yard.ground, nullptr, run, record);
  CHECK(run.time() == 0);
  CHECK_THAT(record.season_series[1].values[0], WithinRel(0.5, 1e-9));
  CHECK(study::season_plan(yard.site).start == "dry");
  yard.site.season.dry_spell = 0;
  results::DesignRecord none;
  study::run_season(yard.site, yard.ground, nullptr, run, none);
  CHECK(none.season_beds.empty());
}

TEST_CASE("a season of its own start has the spring of the yard but not the inflow of the storm") {
  SimpleYard yard = planted_yard();
  yard.site.season.start = site::StartMoisture::dry;
  const auto lowest = [&] {
    yard::Yard run(yard.site, yard.ground, yard.rain, nullptr);
    results::DesignRecord record;
    study::run_season(yard.site, yard.ground, nullptr, run, record);
    return record.season_beds[0].lowest_available_fraction;
  };
  const double dry = lowest();
  const Polyline along = {{0, 0}, {0, 3}};
  yard.site.edges.inflows = {{along, {0, 7200}, {2e-4, 0}, "brook"}}; // a storm's, over in two hours
  CHECK(lowest() == dry);
  yard.site.edges.inflows = {{along, {0}, {1e-5}, "spring"}};
  CHECK(lowest() > dry + 0.1);
}
