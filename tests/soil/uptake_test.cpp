#include "catch.hpp"
#include "soils.hpp"

#include <cmath>

#include <lowspot/soil/uptake.hpp>

using namespace soils;
using lowspot::soil::stressed_uptake;

TEST_CASE("Uptake is full above the threshold and decays exactly below it") {
  CHECK(stressed_uptake(0.004, 0.1, 0.12, 0.5) == 0.004);
  CHECK_THAT(stressed_uptake(0.02, 0.06, 0.12, 0.5), WithinRel(0.06 * (1 - std::exp(-0.02 / 0.06)), 1e-13));
  CHECK(stressed_uptake(0.02, 0, 0.12, 0.5) == 0);
  CHECK(stressed_uptake(5.0, 0.08, 0.12, 0.5) <= 0.08);
  CHECK(stressed_uptake(0.01, 0.05, 0.12, 1.0) == 0.01);
  double stored = 0.11, taken = 0;
  for (int i = 0; i < 1000; ++i) {
    const double part = stressed_uptake(1e-4, stored, 0.12, 0.4);
    stored -= part;
    taken += part;
  }
  CHECK_THAT(stressed_uptake(0.1, 0.11, 0.12, 0.4), WithinRel(taken, 1e-11));
}

TEST_CASE("Roots take from a wet front first, then from their zone, never below the wilting point") {
  const Parameters soil = sandy_loam(0.6);
  Column column(soil, 0.2);
  column.columns.root_depth[0] = 0.3;
  column.infiltrate(10 * mm, 600);
  const double before = column.water();
  const auto first = column.take_up(4 * mm, 0.5);
  CHECK_THAT(first.soil, WithinRel(4 * mm, 1e-12));
  CHECK_THAT(column.columns.front[0], WithinRel(6 * mm, 1e-12));
  CHECK(column.columns.root_deficit[0] == 0);
  double taken = first.soil;
  for (int i = 0; i < 500; ++i) taken += column.take_up(4 * mm, 0.5).soil;
  CHECK_THAT(column.water(), WithinAbs(before - taken, 1e-15));
  CHECK(column.columns.front[0] == 0);
  const double in_roots = column.columns.background[0] - column.columns.root_deficit[0] / 0.3;
  CHECK(in_roots >= soil.wilting_point - 1e-12);
  CHECK_THAT(in_roots, WithinAbs(soil.wilting_point, 1e-6));
  CHECK_THAT(lowspot::soil::depletion(column.columns, 0, 0),
             WithinRel(lowspot::soil::available_capacity(column.columns, 0), 1e-3));
}

TEST_CASE("A table in the roots gives its share; drowned roots take nothing") {
  const Parameters soil = sandy_loam(0.4);
  Column column(soil, soil.field_capacity);
  column.columns.root_depth[0] = 0.3;
  column.saturated[0] = 0.2; // 0.1 m of 0.3 m of roots stand in it
  const auto taken = column.take_up(3 * mm, 0.5);
  CHECK_THAT(taken.soil, WithinRel(2 * mm, 1e-12));
  CHECK_THAT(taken.saturated, WithinRel(1 * mm, 1e-12));

  Column wet(soil, soil.field_capacity); // 0.05 m of air-filled 0.205 over 0.3 m of roots
  wet.columns.root_depth[0] = 0.3;
  wet.saturated[0] = 0.35;
  const double air = 0.205 * 0.05 / 0.3;
  CHECK_THAT(lowspot::soil::air_filled(wet.columns, 0, 0.35), WithinRel(air, 1e-12));
  const auto less = wet.take_up(3 * mm, 0.5);
  CHECK_THAT(less.soil + less.saturated, WithinRel(3 * mm * air / 0.10, 1e-12));

  wet.saturated[0] = 0.4;
  const auto none = wet.take_up(3 * mm, 0.5);
  CHECK(none.soil == 0);
  CHECK(none.saturated == 0);
}

TEST_CASE("What stressed roots lack rises from a table below them, if asked for") {
  const Parameters soil = silt_loam(0.5);
  Column column(soil, soil.wilting_point);
  column.columns.root_depth[0] = 0.2;
  column.saturated[0] = 0.15;
  CHECK(column.take_up(2 * mm, 0.5).saturated == 0);
  CHECK_THAT(column.take_up(2 * mm, 0.5, 12 * hour).saturated, WithinRel(2 * mm, 1e-12));
  column.saturated[0] = 0;
  CHECK(column.take_up(2 * mm, 0.5, 12 * hour).saturated == 0);
}

// The table stands 1 m below the roots: 0.0302952 of 6.5 mm/h, an hour long, of the 2 mm that are lacking.
TEST_CASE("What rises to stressed roots is no more than the soil lifts") {
  const Parameters soil = silt_loam(1.25);
  Column column(soil, soil.wilting_point);
  column.columns.root_depth[0] = 0.2;
  column.saturated[0] = 0.05;
  const auto taken = column.take_up(2 * mm, 0.5, hour);
  CHECK_THAT(taken.soil, WithinAbs(0, 1e-15));
  CHECK_THAT(taken.saturated, WithinRel(0.0302952 * 6.5 * mm, 1e-5));
}

TEST_CASE("Bare ground of which a share is open loses that share of what open ground loses") {
  // The exact loss of open ground, twice the demand of a cell of which half can give it, and so on; dry
  // spells with showers between, after which the layer is wetted again.
  const Parameters soil = sandy_loam(0.4);
  const double evaporable = (soil.field_capacity - 0.5 * soil.wilting_point) * 0.10; // 15.95 mm
  const double easy = 0.4 * evaporable, rest = evaporable - easy, demand = 4 * mm;
  for (const double open : {0.05, 0.4, 0.9}) {
    CAPTURE(open);
    Column column(soil, soil.field_capacity), whole(soil, soil.field_capacity);
    for (Column* each : {&column, &whole}) {
      each->columns.bare[0] = 1;
      each->columns.root_depth[0] = lowspot::soil::evaporating_depth;
    }
    column.columns.open[0] = open;
    double lost = 0, by_whole = 0;
    for (int day = 0; day < 25; ++day) {
      lost += column.take_up(open * demand, 0.5).soil;
      by_whole += whole.take_up(demand, 0.5).soil;
    }
    CHECK_THAT(lost,
               WithinRel(open * (easy + rest * (1 - std::exp(-demand * (25 - easy / demand) / rest))), 1e-9));
    CHECK_THAT(lowspot::soil::depletion(column.columns, 0, 0),
               WithinRel(lowspot::soil::depletion(whole.columns, 0, 0), 1e-9));
    for (int shower = 0; shower < 3; ++shower) {
      const double burst = 6 * mm, hours = 0.25;
      for (int part = 0; part < 15; ++part) {
        column.infiltrate(open * burst / 15, hours * hour / 15);
        whole.infiltrate(burst / 15, hours * hour / 15);
      }
      for (int day = 0; day < 6; ++day) {
        lost += column.take_up(open * demand, 0.5).soil;
        by_whole += whole.take_up(demand, 0.5).soil;
      }
    }
    CHECK_THAT(lost, WithinRel(open * by_whole, 1e-9));
    CHECK_THAT(column.water(), WithinAbs(soil.field_capacity * 0.4 + 3 * open * 6 * mm - lost, 1e-14));
  }
  Column covered(soil, soil.field_capacity);
  covered.columns.bare[0] = 1;
  covered.columns.root_depth[0] = lowspot::soil::evaporating_depth;
  covered.columns.open[0] = 0;
  const auto taken = covered.take_up(demand, 0.5, hour);
  CHECK(taken.soil == 0);
  CHECK(taken.saturated == 0);
}

TEST_CASE("Soil without roots gives nothing") {
  Column column(silt_loam(0.5), 0.3);
  const auto taken = column.take_up(2 * mm, 0.5);
  CHECK(taken.soil + taken.saturated == 0);
  CHECK(lowspot::soil::available_capacity(column.columns, 0) == 0);
}

TEST_CASE("Bare ground loses all that is asked while its upper layer is wet, then less and less") {
  const Parameters soil = silt_loam(0.3);
  Column column(soil, soil.field_capacity);
  column.columns.bare[0] = 1;
  column.columns.root_depth[0] = lowspot::soil::evaporating_depth;
  const double evaporable = (soil.field_capacity - 0.5 * soil.wilting_point) * 0.10; // 26.35 mm
  const double easy = 0.4 * evaporable;                                              // 10.54 mm at full rate
  CHECK_THAT(lowspot::soil::easily_evaporated_share(evaporable), WithinRel(0.4, 1e-12));
  const double demand = 5 * mm;
  double lost = 0;
  for (int day = 0; day < 2; ++day) lost += column.take_up(demand, 0.9).soil;
  CHECK_THAT(lost, WithinRel(10 * mm, 1e-12));
  // From there what is left decays: exact for a reduction in proportion to what is left.
  const double t_easy = easy / demand, rest = evaporable - easy;
  for (int day = 2; day < 20; ++day) lost += column.take_up(demand, 0.9).soil;
  CHECK_THAT(lost, WithinRel(easy + rest * (1 - std::exp(-demand * (20 - t_easy) / rest)), 1e-9));
  // Two thirds of the wilting point and below are out of reach of roots, not of the air.
  for (int day = 0; day < 400; ++day) lost += column.take_up(demand, 0.9).soil;
  CHECK_THAT(lost, WithinRel(evaporable, 1e-6));
  CHECK_THAT(column.water(), WithinAbs(soil.field_capacity * 0.3 - lost, 1e-14));

  Column flooded(soil, soil.field_capacity);
  flooded.columns.bare[0] = 1;
  flooded.columns.root_depth[0] = 0.10;
  flooded.saturated[0] = 0.3; // no air at all does not hold evaporation back
  CHECK_THAT(flooded.take_up(demand, 0.9).saturated, WithinRel(demand, 1e-12));
}
