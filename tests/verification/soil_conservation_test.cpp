// Conservation under any weather: seeded random sequences of rain, ponding, drainage, uptake and movements of
// the table on every texture of the catalogue, in steps from a second to a day.
#include "catch.hpp"

#include <algorithm>
#include <cmath>
#include <random>
#include <string>

#include <lowspot/catalog/catalog.hpp>
#include <lowspot/soil/column.hpp>

using namespace lowspot::soil;

namespace {

// One column a texture and depth, and the books of each.
struct Columns33 {
  Columns columns;
  std::vector<double> saturated, books, gross;
  std::size_t size() const { return saturated.size(); }
  double held(std::size_t cell) const {
    return water_above(columns, cell, saturated[cell]) + water_saturated(columns, cell, saturated[cell]);
  }
};

Columns33 make_field(std::mt19937& random) {
  std::uniform_real_distribution<double> unit(0, 1);
  const auto catalog = lowspot::catalog::read_catalog(LOWSPOT_SOURCE_DATA "/catalog");
  std::vector<Parameters> kinds;
  std::vector<double> moisture;
  std::vector<int> kind;
  for (const auto& row : catalog.soils)
    for (double depth : {0.05, 0.18, 0.9}) {
      kind.push_back(static_cast<int>(kinds.size()));
      kinds.push_back({depth, row.porosity.value, row.field_capacity, row.wilting_point, row.residual,
                       row.conductivity.value, row.wetting_front_suction.value, row.pore_size_index,
                       row.drainable_porosity.value});
      moisture.push_back(row.wilting_point + unit(random) * (row.porosity.value - row.wilting_point));
    }
  Columns33 field;
  const std::size_t n = kind.size();
  field.columns = make_columns(kinds, kind, lowspot::Mask(n, 1), moisture);
  field.saturated.assign(n, 0.0);
  field.gross.assign(n, 0.0);
  for (std::size_t c = 0; c < n; ++c) {
    field.columns.root_depth[c] = 0.08 * static_cast<double>(c % 6);
    field.columns.ponded_head = true;
    field.books.push_back(field.held(c));
  }
  return field;
}

void check_state(const Columns33& field, std::size_t cell) {
  const Columns& columns = field.columns;
  const Parameters& soil = columns.kinds[columns.kind[cell]];
  const double saturated = field.saturated[cell], thickness = soil.depth - saturated;
  constexpr double slack = 1e-9;
  REQUIRE(saturated >= 0);
  REQUIRE(thickness >= 0);
  REQUIRE(columns.front[cell] >= 0);
  REQUIRE(columns.second_front[cell] >= 0);
  REQUIRE(columns.root_deficit[cell] >= 0);
  REQUIRE(columns.front_content[cell] <= soil.porosity + slack);
  REQUIRE(columns.second_content[cell] <= soil.porosity + slack);
  const double above = water_above(columns, cell, saturated);
  REQUIRE(above <= soil.porosity * thickness + slack);
  REQUIRE(above >= soil.residual * thickness - slack);
  if (thickness < 1e-6) return;
  REQUIRE(columns.background[cell] <= soil.porosity + slack);
  REQUIRE(columns.background[cell] >= soil.residual - slack);
  double depth = 0;
  if (columns.front[cell] > 0) {
    depth = columns.front[cell] / (columns.front_content[cell] - columns.background[cell]);
    REQUIRE(depth > 0);
    REQUIRE(depth <= thickness * (1 + 1e-6) + slack);
  }
  // The driest layer is the roots' below the front.
  const double span = std::min(columns.root_depth[cell], thickness) - depth;
  if (columns.root_deficit[cell] > slack) {
    REQUIRE(span > 0);
    REQUIRE(columns.background[cell] - columns.root_deficit[cell] / span >= soil.residual - 1e-6);
  }
}

struct Weather {
  double rain = 0, standing = 0; // in multiples of the conductivity; m
  double demand = 0;             // m/s
  double sideways = 0;           // m/s to the table, of either sign
};

// Steps of all lengths: log-uniform from a second to a day.
double any_step(std::mt19937& random) {
  return std::pow(86400.0, std::uniform_real_distribution<double>(0, 1)(random));
}

Weather any_weather(std::mt19937& random) {
  std::uniform_real_distribution<double> unit(0, 1);
  Weather weather;
  switch (random() % 5) {
  case 0: // a burst on ponded ground
    weather.rain = 10 * unit(random);
    weather.standing = 0.1 * unit(random);
    break;
  case 1: // drizzle, and exactly the conductivity now and then
    weather.rain = unit(random) < 0.2 ? 1.0 : unit(random);
    break;
  case 2: // a rising table
    weather.sideways = 1e-6 * unit(random);
    break;
  case 3: // a falling one, under thirsty plants
    weather.sideways = -1e-6 * unit(random);
    weather.demand = 1e-7 * unit(random);
    break;
  default: // dry
    weather.demand = 1e-7 * unit(random);
  }
  return weather;
}

void advance(Columns33& field, const Weather& weather, double dt) {
  const std::size_t n = field.size();
  using Values = std::vector<double>;
  Values supply(n), ponded(n, weather.standing), capacity(n), entering(n), recharge(n), net(n), overflow(n),
      short_of(n), demand(n, weather.demand * dt), fraction(n, 0.5), from_soil(n), from_saturated(n);
  for (std::size_t c = 0; c < n; ++c)
    supply[c] = weather.rain * field.columns.kinds[field.columns.kind[c]].conductivity;
  infiltration_capacity(field.columns, field.saturated, ponded, supply, dt, capacity);
  for (std::size_t c = 0; c < n; ++c) {
    REQUIRE(capacity[c] >= 0);
    entering[c] = std::min(capacity[c] * dt, ponded[c] + supply[c] * dt);
  }
  infiltrate(field.columns, field.saturated, entering, dt, recharge);
  drain_by_gravity(field.columns, field.saturated, dt, recharge);
  take_up(field.columns, field.saturated, demand, fraction, from_soil, from_saturated, dt);
  for (std::size_t c = 0; c < n; ++c) {
    REQUIRE(recharge[c] >= -1e-15);
    REQUIRE(from_soil[c] >= 0);
    REQUIRE(from_saturated[c] >= 0);
    REQUIRE(from_soil[c] + from_saturated[c] <= demand[c] * (1 + 1e-12) + 1e-15);
    net[c] = recharge[c] - from_saturated[c] + weather.sideways * dt;
    field.books[c] += entering[c] - from_soil[c] - recharge[c] + net[c];
    field.gross[c] += entering[c] + std::abs(net[c]) + from_soil[c];
  }
  change_saturated(field.columns, field.saturated, net, overflow, short_of);
  for (std::size_t c = 0; c < n; ++c) {
    REQUIRE(overflow[c] >= 0);
    REQUIRE(short_of[c] >= 0);
    field.books[c] += short_of[c] - overflow[c];
  }
}

} // namespace

TEST_CASE(
    "Any weather in steps of a second to a day loses no water and leaves no moisture that soil cannot have") {
  for (unsigned seed : {1u, 20260u, 777u}) {
    std::mt19937 random(seed);
    Columns33 field = make_field(random);
    for (int step = 0; step < 3000; ++step) {
      const Weather weather = any_weather(random);
      const double dt = any_step(random);
      INFO("seed " << seed << ", step " << step << " of " << dt << " s");
      advance(field, weather, dt);
      for (std::size_t c = 0; c < field.size(); ++c) {
        INFO("column " << c);
        // Round-off grows with what has passed through, not with the number of steps.
        REQUIRE_THAT(field.held(c), WithinAbs(field.books[c], 1e-12 + 4e-15 * field.gross[c]));
        check_state(field, c);
      }
    }
    for (double moved : field.gross) CHECK(moved > 1.0); // m: the forcing has been worth the name
  }
}

TEST_CASE("A season of one kind of weather: endless rain, endless drought, and a table that swings daily") {
  std::mt19937 random(5);
  const Weather kinds[] = {{0.6, 0, 0, 0}, {0, 0, 6e-8, 0}, {0, 0, 0, 5e-7}, {4, 0.02, 0, -5e-7}};
  for (const Weather& kind : kinds) {
    for (double dt : {60.0, 3600.0, 86400.0}) {
      Columns33 field = make_field(random);
      for (int step = 0; step < 200; ++step) {
        Weather weather = kind;
        if (weather.sideways != 0 && step % 2 == 1) weather.sideways = -weather.sideways;
        advance(field, weather, dt);
        for (std::size_t c = 0; c < field.size(); ++c) {
          REQUIRE_THAT(field.held(c), WithinAbs(field.books[c], 1e-12 + 4e-15 * field.gross[c]));
          check_state(field, c);
        }
      }
    }
  }
}
