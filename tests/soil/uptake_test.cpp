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

TEST_CASE("Soil without roots gives nothing") {
  Column column(silt_loam(0.5), 0.3);
  const auto taken = column.take_up(2 * mm, 0.5);
  CHECK(taken.soil + taken.saturated == 0);
  CHECK(lowspot::soil::available_capacity(column.columns, 0) == 0);
}
