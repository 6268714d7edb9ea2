#include "catch.hpp"
#include "simple_yard.hpp"

#include <lowspot/results/drain_record.hpp>

using namespace lowspot;

TEST_CASE("what leaves by the foot of a run is what its outlet gave") {
  SimpleYard yard =
      simple_yard(24, 12, 0.25, [](double x, double y) { return 1.2 - 0.01 * x + 0.02 * std::abs(y - 1.5); });
  open_side(yard, terrain::Side::east);
  rain_at(yard, 1e-5, 1800);
  const site::Design design = simple_drain(yard, 0.45);
  yard::Yard run(yard.site, yard.ground, yard.rain, &design);
  results::DrainRecorder drains(run);
  struct Watch : yard::Observer {
    explicit Watch(results::DrainRecorder& drains_) : drains(drains_) {}
    void step_done(const yard::Yard& now, const yard::StepFlows& flows) override { drains.step(now, flows); }
    results::DrainRecorder& drains;
  } watch(drains);
  run.advance(4 * 3600.0, &watch);
  const auto records = drains.finish(run);
  REQUIRE(records.size() == 1);
  CHECK(records[0].volume_out > 0);
  CHECK_THAT(records[0].volume_out, WithinRel(run.ledger().received(Store::drains), 0.03));
  CHECK(records[0].peak_flow > 0);
  CHECK(records[0].peak_flow <= 1.1 * records[0].full_flow_capacity);
  const auto profiles = drains.profiles(run);
  REQUIRE(profiles.size() == 1);
  CHECK(profiles[0].distance.size() == run.drain()->stations().size());
  for (std::size_t s = 0; s < profiles[0].distance.size(); ++s)
    CHECK(profiles[0].highest_water[s] >= profiles[0].trench_bottom[s] - 1e-9);
  CHECK(drains.outlet_series(run).size() == 1);
  CHECK(drains.run_series(run).size() == 2);
}

TEST_CASE("a yard without a drain has no drain records") {
  SimpleYard yard = simple_yard(4, 4, 1.0, [](double, double) { return 1.0; });
  yard::Yard run(yard.site, yard.ground, yard.rain, nullptr);
  results::DrainRecorder drains(run);
  drains.step(run, {});
  CHECK(drains.finish(run).empty());
  CHECK(drains.run_series(run).empty());
}
