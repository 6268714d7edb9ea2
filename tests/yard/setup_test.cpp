#include "catch.hpp"
#include "simple_yard.hpp"

#include <lowspot/yard/setup.hpp>

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
