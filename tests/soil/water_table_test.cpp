#include "catch.hpp"
#include "soils.hpp"

using namespace soils;

TEST_CASE("A rising table takes in the moisture it meets; a falling one leaves the undrained part") {
  const Parameters soil = silt_loam(0.5);
  Column column(soil, 0.33);
  column.change(17.1 * mm);
  CHECK_THAT(column.saturated[0], WithinRel(0.1, 1e-12));
  CHECK(column.columns.background[0] == 0.33);
  column.change(-0.6 * mm);
  CHECK_THAT(column.saturated[0], WithinRel(0.09, 1e-12));
  CHECK_THAT(column.columns.background[0], WithinRel((0.4 * 0.33 + 0.01 * 0.441) / 0.41, 1e-12));
}

TEST_CASE("What finds no room overflows; what is not there is reported") {
  const Parameters soil = silt_loam(0.2);
  Column column(soil, 0.401);
  const auto filled = column.change(25 * mm);
  CHECK_THAT(filled.overflow, WithinAbs(5 * mm, 1e-15));
  CHECK(column.saturated[0] == 0.2);
  CHECK_THAT(column.change(1 * mm).overflow, WithinRel(1 * mm, 1e-12));
  const auto emptied = column.change(-20 * mm);
  CHECK_THAT(emptied.short_of, WithinAbs(20 * mm - 0.06 * 0.2, 1e-15));
  CHECK_THAT(column.saturated[0], WithinAbs(0, 1e-16));
  CHECK_THAT(column.columns.background[0], WithinRel(0.441, 1e-12));
}

TEST_CASE("A table in soil that drains hardly at all gives what the perched zone is told that it can") {
  for (const double drainable : {0.0, 0.002, 0.005}) {
    Parameters soil = silt_loam(0.2);
    soil.drainable_porosity = drainable;
    Column column(soil, 0.49);
    column.change(0.1 * 0.011);
    CHECK_THAT(column.saturated[0], WithinRel(0.1, 1e-9));
    std::vector<double> rising(1), falling(1);
    lowspot::soil::fillable_porosity(column.columns, column.saturated, rising, falling);
    const double before = column.water();
    const auto given = column.change(-0.08 * falling[0]); // most of what it would give
    CHECK(given.short_of == 0);
    CHECK_THAT(column.saturated[0], WithinAbs(0.02, 1e-12));
    CHECK_THAT(column.water(), WithinRel(before - 0.08 * falling[0], 1e-13));
  }
}

TEST_CASE("A table that rises through deficit and fronts fills each by what it lacks") {
  const Parameters soil = sandy_loam(0.3);
  Column column(soil, 0.20);
  auto& columns = column.columns;
  columns.front[0] = 0.015; // 0.35 down to 0.10 m
  columns.front_content[0] = 0.35;
  columns.second_front[0] = 0.002; // 0.40 down to 0.04 m
  columns.second_content[0] = 0.40;
  columns.root_depth[0] = 0.25;
  columns.root_deficit[0] = 0.006; // 0.16 from 0.10 to 0.25 m
  const double before = column.water();
  const double background = 0.05 * 0.212, roots = 0.15 * 0.252, first = 0.06 * 0.062, second = 0.04 * 0.012;
  column.change(background + 0.5 * roots);
  CHECK_THAT(column.saturated[0], WithinRel(0.125, 1e-10));
  column.change(0.5 * roots + 0.5 * first);
  CHECK_THAT(column.saturated[0], WithinRel(0.23, 1e-10));
  CHECK_THAT(column.water(), WithinRel(before + background + roots + 0.5 * first, 1e-13));
  const auto last = column.change(0.5 * first + second + 1 * mm);
  CHECK(column.saturated[0] == 0.3);
  CHECK_THAT(last.overflow, WithinRel(1 * mm, 1e-9));
  CHECK(columns.front[0] == 0);
  CHECK(columns.root_deficit[0] == 0);
}

TEST_CASE("A falling table leaves fronts and roots as they are") {
  Column column(sandy_loam(0.3), 0.20);
  column.change(30 * mm);
  column.columns.root_depth[0] = 0.1;
  column.columns.root_deficit[0] = 0.004;
  column.infiltrate(4 * mm, 60);
  const double depth = column.front_depth(), before = column.water();
  column.change(-5 * mm);
  CHECK_THAT(column.front_depth(), WithinRel(depth, 1e-12));
  CHECK_THAT(column.water(), WithinRel(before - 5 * mm, 1e-13));
}

TEST_CASE("Fillable porosity is what the table meets and leaves, with a floor") {
  const Parameters soil = silt_loam(0.2);
  Column column(soil, 0.35);
  std::vector<double> rising(1), falling(1);
  const auto ask = [&] {
    lowspot::soil::fillable_porosity(column.columns, column.saturated, rising, falling);
  };
  ask();
  CHECK_THAT(rising[0], WithinRel(0.151, 1e-12));
  CHECK(falling[0] == 0.06);
  column.columns.background[0] = 0.5005;
  ask();
  CHECK(rising[0] == lowspot::soil::smallest_fillable);
  column.saturated[0] = 0.2;
  ask();
  CHECK(rising[0] == 0.06);
}
