#include "catch.hpp"
#include "simple_yard.hpp"

#include <lowspot/results/drain_record.hpp>
#include <lowspot/yard/setup.hpp>

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
  // All but what is in the pot at its end.
  const double pot = run.drain()->stored() - run.drain()->run_state(0).stored;
  CHECK_THAT(records[0].volume_out, WithinRel(run.ledger().received(Store::drains) + pot, 1e-12));
  CHECK(pot < 1e-3 * records[0].volume_out);
  CHECK(records[0].peak_flow > 0);
  CHECK(records[0].peak_flow <= 1.1 * records[0].full_flow_capacity);
  const auto profiles = drains.profiles(run);
  REQUIRE(profiles.size() == 1);
  CHECK(profiles[0].distance.size() == run.drain()->stations().size());
  for (std::size_t s = 0; s < profiles[0].distance.size(); ++s)
    CHECK(profiles[0].highest_water[s] >= profiles[0].trench_bottom[s] - 1e-9);
  CHECK(drains.outlet_series(run).size() == 1);
  // Depth at the foot, what is stored, and the head lost in each member of the chain.
  CHECK(drains.run_series(run).size() == 2 + results::DrainRecorder::members);
  double all = 0;
  for (const auto& [member, share] : records[0].lost_in_storm) all += share;
  CHECK_THAT(all, WithinRel(1.0, 1e-9));
  const auto outlets = drains.outlets();
  REQUIRE(outlets.size() == 1);
  CHECK_THAT(outlets[0].volume, WithinRel(run.ledger().received(Store::drains), 1e-12));
}

TEST_CASE("the head lost in soil under a slab is that over its tight layer") {
  SimpleYard yard = simple_yard(24, 12, 0.25, [](double, double) { return 1.0; });
  make_pervious(yard);
  rain_at(yard, 2e-5, 600); // fills the stone
  yard.site.soils[0].perched_start = 0.3;
  terrain::Ground& ground = yard.ground;
  ground.natural_elevation = ground.elevation;
  ground.slab_thickness.assign(ground.grid.cells(), 0.1);
  ground.base_depth.assign(ground.grid.cells(), 0.1);
  site::Design design = simple_drain(yard, 0.4);
  design.outlets[0].kind = "submerged"; // keeps the stone full to above the tight layer at 0.7 m
  design.outlets[0].level = 0.8;
  yard::Yard run(yard.site, ground, yard.rain, &design);
  results::DrainRecorder drains(run);
  struct Watch : yard::Observer {
    explicit Watch(results::DrainRecorder& drains_) : drains(drains_) {}
    void step_done(const yard::Yard& now, const yard::StepFlows& flows) override { drains.step(now, flows); }
    results::DrainRecorder& drains;
  } watch(drains);
  run.advance(3600, &watch);
  const perched::Layer layer = yard::make_perched_layer(yard.site, ground);
  double head = 0, level = 0;
  for (const yard::WallContact& wall : run.walls()) {
    const double tight = layer.tight_elevation[wall.cell];
    level = std::max(level, run.drain()->stone_level()[wall.station]);
    head = std::max(head, tight + run.saturated()[wall.cell] -
                              std::max(run.drain()->stone_level()[wall.station], tight));
  }
  REQUIRE(level > 0.75);
  double soil = -1, fabric = -1;
  for (const auto& [name, value] : drains.run_series(run)) {
    if (name == "run:run:lost_in_soil_m") soil = value;
    if (name == "run:run:lost_in_fabric_m") fabric = value;
  }
  REQUIRE(head > 0.02);
  CHECK_THAT(soil + fabric, WithinAbs(head, 1e-9));
}

TEST_CASE("a yard without a drain has no drain records") {
  SimpleYard yard = simple_yard(4, 4, 1.0, [](double, double) { return 1.0; });
  yard::Yard run(yard.site, yard.ground, yard.rain, nullptr);
  results::DrainRecorder drains(run);
  drains.step(run, {});
  CHECK(drains.finish(run).empty());
  CHECK(drains.run_series(run).empty());
}

TEST_CASE("a dry well and an inlet have their levels and flows recorded") {
  SimpleYard yard = simple_yard(24, 12, 0.25, [](double x, double y) {
    return 1.0 + 0.05 * std::hypot(x - 3, y - 2.4); // a bowl around the inlet
  });
  rain_at(yard, 2e-5, 900);
  site::Design design = simple_drain(yard, 0.45);
  design.runs[0].path.back().x -= 1;
  site::Outlet& well = design.outlets[0];
  well.kind = "dry well";
  well.at = design.runs[0].path.back();
  well.well = {0.5, 2.8, 1.2, 0.4, 1e-6};
  site::Inlet inlet;
  inlet.name = "grate";
  inlet.at = {3, 2.4};
  inlet.grate = {0.3, 0.3, 0.5, 0.5};
  inlet.sump = 0.1;
  inlet.pipe = 0.1;
  inlet.to = "run";
  design.inlets = {inlet};
  yard::Yard run(yard.site, yard.ground, yard.rain, &design);
  results::DrainRecorder drains(run);
  struct Watch : yard::Observer {
    explicit Watch(results::DrainRecorder& drains_) : drains(drains_) {}
    void step_done(const yard::Yard& now, const yard::StepFlows& flows) override { drains.step(now, flows); }
    results::DrainRecorder& drains;
  } watch(drains);
  run.advance(3600, &watch);
  const auto& vessels = drains.vessels();
  REQUIRE(vessels.size() == 2);
  CHECK(vessels[0].kind == "dry well");
  CHECK(vessels[0].highest_stored > 0.01);
  CHECK(vessels[0].highest_stored <= 0.4 * 0.5 * 1.2 * 1.02);
  CHECK(vessels[1].kind == "inlet");
  CHECK(vessels[1].peak_flow > 0);
  // Nothing leaves: what the inlet passed on and what came through the cap is in the drain or soaked away.
  CHECK(vessels[1].volume == run.drain()->fitting_volume(0));
  CHECK(vessels[1].volume > 0.02);
  CHECK(vessels[1].volume < run.rain_volume());
  bool level = false, flow = false;
  for (const auto& [name, value] : drains.run_series(run)) {
    if (name == "well:outlet:level_m") level = std::abs(value - run.drain()->outlet_level(0)) < 1e-12;
    if (name == "inlet:grate_m3_per_s") flow = true;
  }
  CHECK(level);
  CHECK(flow);
}
