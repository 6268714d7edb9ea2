#include "catch.hpp"
#include "soils.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>

#include <lowspot/base/error.hpp>

using namespace soils;
using namespace lowspot::soil;

namespace {

// What bounds hold for a column at any time; round-off is that of sums of water over a thin zone.
void check_bounds(const Columns& columns, std::size_t cell, double saturated) {
  const Parameters& soil = columns.kinds[columns.kind[cell]];
  const double thickness = soil.depth - saturated;
  const double slack = 1e-9;
  REQUIRE(saturated >= 0);
  REQUIRE(thickness >= 0);
  REQUIRE(columns.front[cell] >= 0);
  REQUIRE(columns.second_front[cell] >= 0);
  REQUIRE(columns.root_deficit[cell] >= 0);
  if (thickness < 1e-6) return;
  REQUIRE(columns.background[cell] <= soil.porosity + slack);
  REQUIRE(columns.background[cell] >= soil.wilting_point - slack);
  double first = 0;
  if (columns.front[cell] > 0) {
    REQUIRE(columns.front_content[cell] <= soil.porosity);
    REQUIRE(columns.front_content[cell] > columns.background[cell]);
    first = columns.front[cell] / (columns.front_content[cell] - columns.background[cell]);
    REQUIRE(first <= thickness * (1 + 1e-6) + slack);
  }
  if (columns.second_front[cell] > 0) {
    REQUIRE(columns.front[cell] > 0);
    REQUIRE(columns.second_content[cell] <= soil.porosity);
    REQUIRE(columns.second_content[cell] > columns.front_content[cell]);
    const double second =
        columns.second_front[cell] / (columns.second_content[cell] - columns.front_content[cell]);
    REQUIRE(second <= first * (1 + 1e-6) + slack);
  }
  if (columns.root_deficit[cell] > 0) {
    const double span = std::min(columns.root_depth[cell], thickness) - first;
    REQUIRE(columns.root_deficit[cell] <=
            (columns.background[cell] - soil.wilting_point) * std::max(0.0, span) + slack);
  }
  REQUIRE(water_above(columns, cell, saturated) <= soil.porosity * thickness + slack);
}

} // namespace

TEST_CASE("Any sequence of rain, drainage, uptake and table movements loses no water") {
  const std::vector<Parameters> kinds{sandy_loam(), silt_loam(),    clay(),
                                      sand(),       silt_loam(0.9), sandy_loam(0.05)};
  const int cells = 60;
  std::vector<int> kind(cells);
  for (int i = 0; i < cells; ++i) kind[i] = i % static_cast<int>(kinds.size());
  std::vector<double> moisture;
  for (const auto& soil : kinds) moisture.push_back(0.5 * (soil.wilting_point + soil.field_capacity));
  Columns columns = make_columns(kinds, kind, lowspot::Mask(cells, 1), moisture);
  for (int i = 0; i < cells; ++i) columns.root_depth[i] = 0.1 * (i % 5);

  std::mt19937 random(20240611);
  std::uniform_real_distribution<double> unit(0, 1);
  using Values = std::vector<double>;
  Values saturated(cells), ponded(cells), supply(cells), capacity(cells), entering(cells), recharge(cells),
      net(cells), overflow(cells), short_of(cells), demand(cells), fraction(cells, 0.5), from_soil(cells),
      from_saturated(cells);
  Values books(cells), gross(cells);
  for (int i = 0; i < cells; ++i) books[i] = water_above(columns, i, 0);

  for (int step = 0; step < 6000; ++step) {
    const double dt = std::pow(10.0, 4 * unit(random)); // 1 s to 3 hours
    const int weather = static_cast<int>(4 * unit(random));
    for (int i = 0; i < cells; ++i) {
      const double conductivity = kinds[kind[i]].conductivity;
      supply[i] = weather == 0   ? 8 * unit(random) * conductivity
                  : weather == 1 ? unit(random) * conductivity
                                 : 0;
      ponded[i] = weather == 0 ? 0.05 * std::max(0.0, unit(random) - 0.5) : 0;
      demand[i] = weather > 1 ? 1e-7 * unit(random) * dt : 0;
    }
    infiltration_capacity(columns, saturated, ponded, supply, dt, capacity);
    for (int i = 0; i < cells; ++i) entering[i] = std::min(capacity[i] * dt, ponded[i] + supply[i] * dt);
    infiltrate(columns, saturated, entering, dt, recharge);
    drain_by_gravity(columns, saturated, dt, recharge);
    take_up(columns, saturated, demand, fraction, from_soil, from_saturated, dt);
    for (int i = 0; i < cells; ++i) {
      const double sideways = 0.002 * (unit(random) - 0.5) * std::min(1.0, dt / 600);
      net[i] = recharge[i] - from_saturated[i] + sideways;
      books[i] += entering[i] - from_soil[i] - recharge[i] + net[i];
      gross[i] += entering[i] + std::abs(net[i]);
    }
    change_saturated(columns, saturated, net, overflow, short_of);
    for (int i = 0; i < cells; ++i) {
      books[i] += short_of[i] - overflow[i];
      const double held = water_above(columns, i, saturated[i]) + water_saturated(columns, i, saturated[i]);
      REQUIRE_THAT(held, WithinAbs(books[i], 1e-12)); // 6000 steps of round-off of about 1e-16 m
      check_bounds(columns, i, saturated[i]);
    }
  }
  // The forcing has been worth the name.
  for (int i = 0; i < cells; ++i) CHECK(gross[i] > 0.5);
}

TEST_CASE("New columns are uniform") {
  const Columns columns = make_columns({silt_loam(0.2), clay(0.3)}, {1, 0}, {1, 1}, {0.3, 0.4});
  CHECK(columns.background[0] == 0.4);
  CHECK(columns.background[1] == 0.3);
  CHECK_THAT(water_above(columns, 0, 0.1), WithinRel(0.4 * 0.2, 1e-12));
  CHECK_THAT(water_saturated(columns, 0, 0.1), WithinRel(0.475 * 0.1, 1e-12));
  CHECK(columns.front[0] + columns.second_front[0] + columns.root_deficit[0] + columns.root_depth[0] == 0);
}

TEST_CASE("Figures that no soil has are refused") {
  using lowspot::InputError;
  const auto make = [](Parameters soil, double moisture) { return one_column(soil, moisture); };
  CHECK_NOTHROW(make(silt_loam(), 0.3));
  CHECK_THROWS_AS(make(silt_loam(0), 0.3), InputError);
  CHECK_THROWS_AS(make(silt_loam(), 0.6), InputError);
  Parameters soil = silt_loam();
  soil.porosity = 1.2;
  CHECK_THROWS_AS(make(soil, 0.3), InputError);
  soil = silt_loam();
  soil.field_capacity = 0.05;
  CHECK_THROWS_AS(make(soil, 0.3), InputError);
  soil = silt_loam();
  soil.pore_size_index = 0;
  CHECK_THROWS_AS(make(soil, 0.3), InputError);
  CHECK_THROWS_AS(make_columns({silt_loam()}, {0}, {1}, {}), InputError);
  CHECK_THROWS_AS(make_columns({silt_loam()}, {0, 0}, {1}, {0.3}), InputError); // a mask of another grid
  soil = silt_loam();
  soil.conductivity = std::numeric_limits<double>::infinity();
  CHECK_THROWS_AS(make(soil, 0.3), InputError);
  CHECK_THROWS_AS(make(silt_loam(std::numeric_limits<double>::infinity()), 0.3), InputError);
  for (const int kind : {-1, 1}) CHECK_THROWS_AS(make_columns({silt_loam()}, {kind}, {1}, {0.3}), InputError);
}

TEST_CASE("water that does not move is no more than what plants leave") {
  Parameters soil = silt_loam();
  soil.residual = soil.wilting_point;
  CHECK_NOTHROW(soils::one_column(soil, soil.residual));
  CHECK_THROWS_WITH(soils::one_column(soil, 0.9 * soil.residual), ContainsSubstring("from the residual"));
  soil.residual = soil.wilting_point + 0.01;
  CHECK_THROWS_WITH(soils::one_column(soil, 0.3), ContainsSubstring("over the wilting point"));
  soil = silt_loam();
  soil.crust_thickness = std::numeric_limits<double>::infinity();
  CHECK_THROWS_AS(soils::one_column(soil, 0.3), lowspot::InputError);
  soil = silt_loam();
  soil.pore_size_index = std::numeric_limits<double>::infinity();
  CHECK_THROWS_AS(soils::one_column(soil, 0.3), lowspot::InputError);
}
