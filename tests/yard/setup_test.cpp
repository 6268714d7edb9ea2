#include "catch.hpp"
#include "simple_yard.hpp"

#include <cmath>

#include <lowspot/base/error.hpp>
#include <lowspot/yard/setup.hpp>
#include <lowspot/yard/yard.hpp>

using namespace lowspot;

TEST_CASE("the tight layer lies one topsoil depth below the ground") {
  SimpleYard yard = simple_yard(4, 3, 1.0, [](double x, double) { return 10 + 0.1 * x; });
  const perched::Layer layer = yard::make_perched_layer(yard.site, yard.ground);
  REQUIRE(layer.tight_elevation.size() == 12);
  CHECK_THAT(layer.tight_elevation[1], WithinAbs(10.15 - 0.3, 1e-12));
  CHECK(layer.thickness[1] == 0.3);
  CHECK(layer.outflow_faces.empty()); // every side is a wall
  open_side(yard, terrain::Side::east);
  CHECK(yard::make_perched_layer(yard.site, yard.ground).outflow_faces.size() == 3);
  CHECK(yard::make_surface_terrain(yard.site, yard.ground).open_faces.size() == 3);
}

TEST_CASE("a perched start is no deeper than the soil") {
  SimpleYard yard = simple_yard(2, 2, 1.0, [](double, double) { return 0.0; });
  yard.site.soils[0].perched_start = 5;
  for (double h : yard::initial_saturated(yard.site, yard.ground)) CHECK(h == 0.3);
}

TEST_CASE("plants ask for water only where ground takes water in") {
  SimpleYard yard = simple_yard(2, 2, 1.0, [](double, double) { return 0.0; });
  yard.site.lawn.crop_coefficient = 0.9;
  CHECK(yard::make_plant_demand(yard.site, yard.ground).crop_coefficient[0] == 0.0);
  make_pervious(yard);
  CHECK(yard::make_plant_demand(yard.site, yard.ground).crop_coefficient[0] == 0.9);
  add_whole_area(yard, "bed");
  yard.site.areas[0].plants = site::Plants{"shrubs", 0.4, 0.5, 0.6, "low"};
  yard.ground.cover.assign(4, 0);
  const yard::PlantDemand demand = yard::make_plant_demand(yard.site, yard.ground);
  CHECK(demand.crop_coefficient[3] == 0.5);
  CHECK(demand.depletion_fraction[3] == 0.6);
  CHECK(yard::make_soil_columns(yard.site, yard.ground).root_depth[0] == 0.4);
}

TEST_CASE(
    "under a slab the tight layer stays where the lot was graded and the soil is what slab and base left") {
  SimpleYard yard = simple_yard(6, 1, 1.0, [](double, double) { return 1.0; });
  make_pervious(yard);
  terrain::Ground& ground = yard.ground;
  ground.natural_elevation = ground.elevation;
  ground.slab_thickness.assign(6, 0.0);
  ground.base_depth.assign(6, 0.0);
  ground.slab_thickness[2] = 0.1, ground.base_depth[2] = 0.1,
  ground.elevation[2] = 1.05; // level with the lawn
  ground.slab_thickness[3] = 0.1, ground.base_depth[3] = 0.3,
  ground.elevation[3] = 0.95; // dug into the tight layer
  const perched::Layer layer = yard::make_perched_layer(yard.site, ground);
  CHECK_THAT(layer.tight_elevation[0], WithinAbs(0.7, 1e-12));
  CHECK_THAT(layer.tight_elevation[2], WithinAbs(0.7, 1e-12));
  CHECK_THAT(layer.thickness[2], WithinAbs(0.25, 1e-12));
  CHECK_THAT(layer.tight_elevation[3], WithinAbs(0.55, 1e-12));
  CHECK_THAT(layer.thickness[3], WithinAbs(0.3, 1e-12));
  const soil::Columns columns = yard::make_soil_columns(yard.site, ground);
  for (int c = 0; c < 6; ++c) CHECK(columns.depth[c] == layer.thickness[c]);
}

TEST_CASE("ground without plants dries from its upper layer, less under mulch, not under concrete") {
  SimpleYard yard = simple_yard(1, 1, 1.0, [](double, double) { return 1.0; });
  make_pervious(yard);
  CHECK(yard::make_soil_columns(yard.site, yard.ground).bare[0] == 1);
  CHECK(yard::make_soil_columns(yard.site, yard.ground).root_depth[0] == 0.10);
  CHECK_THAT(yard::make_plant_demand(yard.site, yard.ground).crop_coefficient[0], WithinRel(1.2, 1e-12));
  yard.site.lawn.soil_evaporation = 0.5;
  CHECK_THAT(yard::make_plant_demand(yard.site, yard.ground).crop_coefficient[0], WithinRel(0.6, 1e-12));
  yard.site.lawn.crop_coefficient = 0.9;
  CHECK(yard::make_soil_columns(yard.site, yard.ground).bare[0] == 0);
  yard.site.lawn.impervious = true;
  CHECK(yard::make_soil_columns(yard.site, yard.ground).bare[0] == 0);
}

TEST_CASE("a ground with a field that is left out, or a soil or area that is none, is refused, not run") {
  const auto refused = [](const auto& spoil) {
    SimpleYard yard = simple_yard(4, 3, 1.0, [](double, double) { return 10.0; });
    yard::make_surface_terrain(yard.site, yard.ground);
    spoil(yard);
    CHECK_THROWS_AS(yard::make_surface_terrain(yard.site, yard.ground), InputError);
  };
  refused([](SimpleYard& yard) { yard.ground.interception.clear(); });
  refused([](SimpleYard& yard) { yard.ground.pervious.pop_back(); });
  refused([](SimpleYard& yard) { yard.ground.cover.clear(); });
  refused([](SimpleYard& yard) { yard.ground.soil.pop_back(); });
  refused([](SimpleYard& yard) { yard.ground.jointed.assign(12, 0.0); }); // and no joint_intake
  refused([](SimpleYard& yard) { yard.ground.soil[5] = 1; });
  refused([](SimpleYard& yard) { yard.ground.cover[5] = 0; });
  refused([](SimpleYard& yard) { yard.site.soils.clear(); });
}

namespace {

// What left over each side on the ground [m3].
struct SideVolumes : yard::Observer {
  void step_done(const yard::Yard&, const yard::StepFlows& flows) override {
    for (int side = 0; side < 4; ++side) volume[side] += flows.side_volume[side];
  }
  double volume[4] = {};
};

SideVolumes an_hour_of_inflow(double cell, double slope, surface::Method method) {
  const int n = static_cast<int>(std::lround(6 / cell));
  SimpleYard yard = simple_yard(n, n, cell, [&](double, double y) { return 10 + slope * y; });
  for (const terrain::Side side : {terrain::Side::south, terrain::Side::north}) open_side(yard, side);
  yard.site.edges.inflows = {{{{0, 6}, {6, 6}}, {0}, {2e-3}, "neighbour"}};
  yard::Options options;
  options.method = method;
  yard::Yard run(yard.site, yard.ground, yard.rain, nullptr, options);
  SideVolumes sides;
  run.advance(3600, &sides);
  CHECK(std::abs(run.closure()) < 1e-9 * run.ledger().given(Store::inflow));
  return sides;
}

} // namespace

// A neighbour's water came in over an open side and a part of it left over the same side at once, the more
// the smaller the cells: at 1 m 4 %, at 0.125 m 29 %.
TEST_CASE("what flows in over an open side does not leave over it again where the ground rises to it") {
  for (const surface::Method method : {surface::Method::dynamic, surface::Method::routed})
    for (const double cell : {0.5, 0.25})
      for (const double slope : {0.02, 0.0}) {
        const SideVolumes sides = an_hour_of_inflow(cell, slope, method);
        CAPTURE(cell, slope, method == surface::Method::dynamic);
        CHECK(sides.volume[3] == 0);
        CHECK(sides.volume[2] > 0.9 * 7.2); // 2 L/s for an hour
      }
  // What is poured on ground that falls outward still leaves there.
  CHECK(an_hour_of_inflow(0.5, -0.02, surface::Method::dynamic).volume[3] > 0.9 * 7.2);
}
