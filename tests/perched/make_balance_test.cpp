#include <lowspot/perched/balance.hpp>

#include <stdexcept>

#include "catch.hpp"
#include "perched/zone.hpp"

using namespace zone;

TEST_CASE("Faces take the harmonic mean, and close beside inactive cells and at the limits") {
  perched::Layer layer = flat_layer(3, 2, 0.5, 0.4, 1.0);
  layer.conductivity = {1, 3, 1, 1, 1, 1};
  layer.tight_elevation = {5, 4, 4, 2, 2, 2};
  layer.active[2] = 0;
  const perched::Balance b = perched::make_balance(layer);
  CHECK_THAT(b.conductivity_east[b.frame.index(0, 0)], WithinRel(1.5, 1e-14));
  CHECK(b.drop_east[b.frame.index(0, 0)] == 1);
  CHECK(b.conductivity_east[b.frame.index(1, 0)] == 0);
  CHECK(b.conductivity_east[b.frame.index(2, 1)] == 0);
  CHECK_THAT(b.conductivity_north[b.frame.index(1, 0)], WithinRel(1.5, 1e-14));
  CHECK(b.drop_north[b.frame.index(0, 0)] == 3);
  CHECK(b.conductivity_north[b.frame.index(0, 1)] == 0);
}

TEST_CASE("Nothing passes a closed face, named from either side") {
  perched::Layer layer = flat_layer(3, 2, 0.5, 0.4, 1.0);
  layer.closed_faces = {{1, 0}, {2, 5}, {2, 5}};
  const perched::Balance b = perched::make_balance(layer);
  CHECK(b.conductivity_east[b.frame.index(0, 0)] == 0);
  CHECK(b.conductivity_east[b.frame.index(1, 0)] == 1);
  CHECK(b.conductivity_east[b.frame.index(0, 1)] == 1);
  CHECK(b.conductivity_north[b.frame.index(2, 0)] == 0);
  CHECK(b.conductivity_north[b.frame.index(1, 0)] == 1);
}

TEST_CASE("Outflow goes on at the slope from the inner neighbour, and only downhill") {
  perched::Layer layer = flat_layer(3, 1, 0.5, 0.4, 2.0);
  layer.tight_elevation = {0.0, 0.3, 0.1};
  layer.outflow_faces = {{0, 0}, {2, 1}, {1, 3}};
  const perched::Balance b = perched::make_balance(layer);
  CHECK_THAT(b.outflow_conductance[0], WithinRel(2.0 * 0.3 / 0.25, 1e-14));
  CHECK_THAT(b.outflow_conductance[1], WithinRel(2.0 * 0.2 / 0.25, 1e-14));
  CHECK(b.outflow_conductance[2] == 0); // no neighbour to the south
  layer.tight_elevation = {0.5, 0.3, 0.1};
  CHECK(perched::make_balance(layer).outflow_conductance[0] == 0); // rises to the west
  layer.outflow_faces[0].slope = 0.12;                             // as it is said to go on
  layer.outflow_faces[1].slope = -0.12;
  const perched::Balance given = perched::make_balance(layer);
  CHECK_THAT(given.outflow_conductance[0], WithinRel(2.0 * 0.12 * 0.5 / 0.25, 1e-14));
  CHECK(given.outflow_conductance[1] == 0);
}

TEST_CASE("A layer that does not fit its grid is refused") {
  perched::Layer layer = flat_layer(3, 2, 0.5, 0.4, 1.0);
  SECTION("array") {
    layer.thickness.pop_back();
  }
  SECTION("mask") {
    layer.active.pop_back();
  }
  SECTION("leakage thickness") {
    layer.leakage_thickness[1] = 0;
  }
  SECTION("a closed face between cells that are no neighbours") {
    layer.closed_faces = {{2, 3}}; // the end of one row and the start of the next
  }
  SECTION("a closed face beyond the grid") {
    layer.closed_faces = {{5, 6}};
  }
  SECTION("outflow cell") {
    layer.outflow_faces = {{6, 0}};
  }
  SECTION("outflow side") {
    layer.outflow_faces = {{0, 4}};
  }
  SECTION("outflow slope") {
    layer.outflow_faces = {{0, 0, std::numeric_limits<double>::infinity()}};
  }
  SECTION("an outflow face between two cells") {
    layer.outflow_faces = {{1, 1}};
  }
  SECTION("an inflow face between two cells") {
    layer.inflow_faces = {{4, 2, 0.1}};
  }
  SECTION("the same outflow face twice") {
    layer.outflow_faces = {{0, 0}, {2, 1}, {0, 0}};
  }
  SECTION("the same inflow face twice") {
    layer.inflow_faces = {{0, 0, 0.1}, {0, 0, 0.2}};
  }
  SECTION("an endless thickness at an inflow face") {
    layer.inflow_faces = {{0, 0, std::numeric_limits<double>::infinity()}};
  }
  SECTION("an elevation that is no number") {
    layer.tight_elevation[4] = std::numeric_limits<double>::quiet_NaN();
  }
  SECTION("a negative conductivity") {
    layer.conductivity[4] = -1e-6;
  }
  SECTION("an endless leakage conductivity") {
    layer.leakage_conductivity[4] = std::numeric_limits<double>::infinity();
  }
  SECTION("an endless thickness") {
    layer.thickness[4] = std::numeric_limits<double>::infinity();
  }
  SECTION("cells without area") {
    layer.grid.cell = 0;
  }
  CHECK_THROWS_AS(perched::make_balance(layer), std::invalid_argument);
}

TEST_CASE("What lies outside the yard need not be a number") {
  perched::Layer layer = flat_layer(3, 2, 0.5, 0.4, 1.0);
  layer.active[4] = 0;
  layer.tight_elevation[4] = layer.conductivity[4] = std::numeric_limits<double>::quiet_NaN();
  CHECK_NOTHROW(perched::make_balance(layer));
}
