#include <lowspot/yard/soil_wall.hpp>

#include <cmath>

#include "catch.hpp"

using namespace lowspot;
using Catch::Matchers::WithinAbs;

TEST_CASE("water from the soil passes the mean of both levels, of what the trench exposes, on the walls that "
          "have soil") {
  perched::Layer layer;
  layer.grid = {3, 1, 0.5, 0, 0};
  layer.tight_elevation = {9.6, 9.6, 9.6};
  layer.thickness = {0.4, 0.4, 0.4};
  drain::Station deep, shallow;
  deep.ground = shallow.ground = 10;
  deep.trench_bottom = 9.5;    // below the tight layer
  shallow.trench_bottom = 9.8; // half of the soil
  const std::vector<drain::Station> stations = {deep, shallow, deep};
  // The first station has a column beside each wall, the second one beside one; the last one only takes.
  const std::vector<yard::WallContact> contacts = {
      {0, 0, 0.5, 0.25, 0.5}, {0, 1, 0.5, 0.25, 0.5}, {1, 1, 0.5, 0.25, 0.5}, {2, 2, 1, 0.25, 1}};
  const std::vector<perched::Exchange> exchanges = {
      {0, 1, 9.7, 0}, {1, 1, 9.7, 0}, {1, 1, 9.9, 0}, {2, 1, 9.95, 0}};
  const std::vector<double> exchanged = {3, 1, 2, -1}, saturated = {0.3, 0.2, 0.5};
  std::vector<double> height(3, 7.0), giving(3, 7.0);
  yard::find_soil_wall(layer, stations, contacts, exchanges, exchanged, saturated, height, giving);
  CHECK_THAT(height[0], WithinAbs(0.5 * 0.2 + 0.5 * 0.15, 1e-12));
  CHECK_THAT(height[1], WithinAbs(0.5 * 0.5 * 0.25, 1e-12));
  CHECK(height[2] == 0);
  CHECK(giving == std::vector<double>{4, 2, 0});
}

// Uphill 3 come in, downhill 2.4 go out: fabric passes the 3 on half of both walls. That soil's own ground
// lies 0.1 m over the middle of the trench.
TEST_CASE("what one wall gives counts whole beside one that takes, down from its own ground") {
  perched::Layer layer;
  layer.grid = {2, 1, 0.5, 0, 0};
  layer.tight_elevation = {9.7, 9.5};
  layer.thickness = {0.4, 0.4};
  drain::Station station;
  station.ground = 10;
  station.trench_bottom = 9.8; // 0.3 m of the 0.4 m uphill
  const std::vector<yard::WallContact> contacts = {{0, 0, 0.5, 0.25, 0.5}, {0, 1, 0.5, 0.25, 0.5}};
  const std::vector<perched::Exchange> exchanges = {{0, 1, 9.9, 0}, {1, 1, 9.9, 0}};
  std::vector<double> height(1), giving(1);
  yard::find_soil_wall(layer, std::vector{station}, contacts, exchanges, std::vector{3.0, -2.4},
                       std::vector{0.3, 0.1}, height, giving);
  CHECK_THAT(giving[0], WithinAbs(3, 1e-12));
  CHECK_THAT(height[0], WithinAbs(0.5 * 0.3 * 0.5 * (0.3 + 0.2) / 0.4, 1e-12));
}

TEST_CASE(
    "a trench above the table gives what its wetted bottom and walls pass, less what goes to the subsoil") {
  perched::Layer layer;
  layer.grid = {1, 1, 0.5, 0, 0};
  layer.tight_elevation = {9.0};
  layer.thickness = {1.0};
  layer.conductivity = {1e-5};
  drain::Station station;
  station.length = 2;
  station.trench_width = 0.3;
  station.trench_bottom = 9.5;
  CHECK_THAT(yard::most_to_soil(station, 0, 9.7, layer, 0, 0.2), WithinAbs(2 * 1e-5 * 0.7, 1e-15));
  CHECK_THAT(yard::most_to_soil(station, 1e-6, 9.7, layer, 0, 0.2), WithinAbs(2 * (7e-6 - 3e-7), 1e-15));
  CHECK_THAT(yard::most_to_soil(station, 0, 9.5, layer, 0, 0.2),
             WithinAbs(2 * 1e-5 * 0.3, 1e-15));                          // all but dry
  CHECK(yard::most_to_soil(station, 2e-5, 9.5, layer, 0, 0.2) == 0);     // all of it goes to the subsoil
  CHECK(std::isinf(yard::most_to_soil(station, 0, 9.7, layer, 0, 0.5))); // the table is up at its foot
  station.trench_bottom = 9.0;
  CHECK(std::isinf(yard::most_to_soil(station, 0, 9.7, layer, 0, 0))); // down to the tight layer
}
