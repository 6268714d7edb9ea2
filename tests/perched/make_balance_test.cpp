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

TEST_CASE("Outflow goes on at the slope from the inner neighbour, and only downhill") {
  perched::Layer layer = flat_layer(3, 1, 0.5, 0.4, 2.0);
  layer.tight_elevation = {0.0, 0.3, 0.1};
  layer.outflow_faces = {{0, 0}, {2, 1}, {1, 1}, {1, 3}};
  const perched::Balance b = perched::make_balance(layer);
  CHECK_THAT(b.outflow_conductance[0], WithinRel(2.0 * 0.3 / 0.25, 1e-14));
  CHECK_THAT(b.outflow_conductance[1], WithinRel(2.0 * 0.2 / 0.25, 1e-14));
  CHECK(b.outflow_conductance[2] == 0); // rises to the east from (0, 0)
  CHECK(b.outflow_conductance[3] == 0); // no neighbour to the south
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
  SECTION("outflow cell") {
    layer.outflow_faces = {{6, 0}};
  }
  SECTION("outflow side") {
    layer.outflow_faces = {{0, 4}};
  }
  CHECK_THROWS_AS(perched::make_balance(layer), std::invalid_argument);
}
