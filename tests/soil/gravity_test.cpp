#include "catch.hpp"
#include "soils.hpp"

#include <lowspot/soil/moisture.hpp>

using namespace soils;

TEST_CASE("A uniform zone drains to field capacity and not below, at any step") {
  const Parameters soil = silt_loam(0.18);
  Column coarse(soil, 0.49), fine(soil, 0.49);
  const double before = coarse.water();
  const double recharge = coarse.drain(24 * hour);
  double sum = 0;
  for (int i = 0; i < 1440; ++i) sum += fine.drain(60);
  CHECK_THAT(recharge, WithinRel(sum, 1e-10));
  CHECK_THAT(coarse.columns.background[0],
             WithinRel(lowspot::soil::drained_content(soil, 0.49, 0.18, 24 * hour), 1e-14));
  CHECK_THAT(coarse.water(), WithinAbs(before - recharge, 1e-16));
  for (int i = 0; i < 1000; ++i) coarse.drain(24 * hour);
  CHECK(coarse.columns.background[0] >= soil.field_capacity);
  CHECK_THAT(coarse.columns.background[0], WithinRel(soil.field_capacity, 1e-12));
}

TEST_CASE("Drainage below a front leaves the front as it is") {
  Column column(silt_loam(0.5), 0.44);
  column.infiltrate(5 * mm, 60);
  const double depth = column.front_depth(), before = column.water();
  const double recharge = column.drain(12 * hour);
  CHECK(recharge > 0);
  CHECK_THAT(column.front_depth(), WithinRel(depth, 1e-12));
  CHECK_THAT((0.44 - column.columns.background[0]) * (0.5 - depth), WithinRel(recharge, 1e-12));
  CHECK_THAT(column.water(), WithinAbs(before - recharge, 1e-15));
}

TEST_CASE("Roots keep what they have while the soil below them drains") {
  Column column(silt_loam(0.5), 0.45);
  column.columns.root_depth[0] = 0.2;
  column.columns.root_deficit[0] = 0.03; // 0.30 in the roots: below field capacity
  const double before = column.water();
  const double recharge = column.drain(6 * hour);
  const double in_roots = column.columns.background[0] - column.columns.root_deficit[0] / 0.2;
  CHECK_THAT(in_roots, WithinRel(0.30, 1e-12));
  CHECK_THAT(column.water(), WithinAbs(before - recharge, 1e-15));
}

TEST_CASE("A sealed column does not drain") {
  Column column(silt_loam(0.5), 0.45);
  std::vector<double> recharge{0.0};
  const std::vector<std::uint8_t> sealed{1};
  lowspot::soil::drain_by_gravity(column.columns, column.saturated, 3600, recharge, sealed);
  CHECK(recharge[0] == 0);
  CHECK(column.columns.background[0] == 0.45);
  lowspot::soil::drain_by_gravity(column.columns, column.saturated, 3600, recharge);
  CHECK(recharge[0] > 0);
}

TEST_CASE("Recharge is added to what is there") {
  Column column(silt_loam(0.5), 0.45);
  std::vector<double> recharge{1.0};
  lowspot::soil::drain_by_gravity(column.columns, column.saturated, 60, recharge);
  CHECK(recharge[0] > 1.0);
}
