#include "catch.hpp"
#include "soils.hpp"

#include <cmath>

#include <lowspot/soil/green_ampt.hpp>

using namespace soils;
using namespace lowspot::soil;

TEST_CASE("A fresh column takes in what the law gives over the step") {
  const Parameters soil = silt_loam(2.0);
  const Column column(soil, 0.2);
  const double deficit = soil.porosity - 0.2;
  for (double ponded : {0.005, 0.08}) {
    const double drive = (soil.wetting_front_suction + ponded) * deficit;
    const double expected = infiltrated_while_ponded(soil.conductivity, drive, 0, 30);
    CHECK_THAT(column.capacity(0, 30, ponded) * 30, WithinRel(expected, 1e-12));
  }
  Column without = column;
  without.columns.ponded_head = false;
  const double drive = soil.wetting_front_suction * deficit;
  CHECK_THAT(without.capacity(0, 30, 0.08) * 30,
             WithinRel(infiltrated_while_ponded(soil.conductivity, drive, 0, 30), 1e-12));
}

TEST_CASE("A supply that does not pond is taken whole; one that ponds in the step, exactly") {
  const Parameters soil = silt_loam(2.0);
  const double supply = 40 * mm_h, drive = soil.wetting_front_suction * (soil.porosity - 0.2);
  const double ponds = ponding_time(soil.conductivity, drive, supply);
  const Column column(soil, 0.2);
  CHECK(column.capacity(supply, 0.99 * ponds) >= supply);
  CHECK(column.capacity(3 * mm_h, 1e5) >= 3 * mm_h);
  const double dt = 3 * ponds;
  CHECK_THAT(column.capacity(supply, dt) * dt,
             WithinRel(infiltrated_under_supply(soil.conductivity, drive, 0, supply, dt), 1e-12));
}

TEST_CASE("A film left on the ground changes the capacity by no more than itself") {
  const Parameters soil = silt_loam(2.0);
  Column column(soil, 0.2);
  column.columns.ponded_head = false;
  const double supply = 40 * mm_h, dt = 1800;
  const double bare = column.capacity(supply, dt) * dt;
  for (double film : {1e-9, 1e-6, 1e-4, 1e-3}) {
    const double with_film = column.capacity(supply, dt, film) * dt;
    CHECK(with_film >= bare);
    CHECK(with_film <= bare + film);
  }
}

TEST_CASE(
    "Ground of which a share is open takes that share of what open ground takes, in steps of any length") {
  const Parameters soil = silt_loam(3.0);
  const double drive = (soil.wetting_front_suction + 0.05) * (soil.porosity - 0.2);
  for (const double open : {0.6, 0.05}) {
    for (const double dt : {5.0, 600.0}) {
      Column column(soil, 0.2);
      column.columns.open[0] = open;
      double taken = 0;
      for (double time = 0; time < 3599; time += dt) {
        const double water = open * column.capacity(0, dt, 0.05) * dt;
        column.infiltrate(water, dt);
        taken += water;
      }
      CHECK_THAT(taken, WithinRel(open * infiltrated_while_ponded(soil.conductivity, drive, 0, 3600), 1e-9));
    }
    // All that arrives on the cell comes to its open share.
    const double supply = 40 * mm_h, whole = soil.wetting_front_suction * (soil.porosity - 0.2);
    Column column(soil, 0.2);
    column.columns.open[0] = open;
    CHECK_THAT(
        open * column.capacity(supply, 3600) * 3600,
        WithinRel(open * infiltrated_under_supply(soil.conductivity, whole, 0, supply / open, 3600), 1e-12));
    // Nor does more go in than the pores of the cell hold.
    Column shallow(silt_loam(0.18), 0.4);
    shallow.columns.open[0] = open;
    CHECK_THAT(open * shallow.capacity(0, 1e7, 0.1) * 1e7, WithinRel((soil.porosity - 0.4) * 0.18, 1e-12));
  }
  Column closed(soil, 0.2);
  closed.columns.open[0] = 0;
  CHECK(closed.capacity(40 * mm_h, 600, 0.05) == 0);
}

TEST_CASE("Capacity never exceeds the free pore space") {
  const Parameters soil = silt_loam(0.18);
  Column column(soil, 0.4);
  CHECK_THAT(column.capacity(0, 1e6, 0.1) * 1e6, WithinRel((soil.porosity - 0.4) * 0.18, 1e-12));
  column.saturated[0] = 0.10;
  CHECK_THAT(column.capacity(0, 1e6, 0.1) * 1e6, WithinRel((soil.porosity - 0.4) * 0.08, 1e-12));
  column.saturated[0] = 0.18;
  CHECK(column.capacity(1, 10, 0.1) == 0);
  column.saturated[0] = 0;
  column.columns.active[0] = 0;
  CHECK(column.capacity(1, 10, 0.1) == 0);
}

TEST_CASE("A soil that roots have dried takes in more until the front has passed them") {
  const Parameters soil = silt_loam(2.0);
  Column moist(soil, 0.3), dried(soil, 0.3);
  dried.columns.root_depth[0] = 0.2;
  dried.columns.root_deficit[0] = 0.02; // content 0.2 in the roots
  const Column dry(soil, 0.2);
  CHECK_THAT(dried.capacity(0, 600, 0.01), WithinRel(dry.capacity(0, 600, 0.01), 1e-12));
  // A step in which the front passes the roots equals the same time in many steps.
  double many = 0, standing = 10;
  dried.columns.ponded_head = false;
  const double once = dried.capacity(0, 48 * hour, 10) * 48 * hour;
  for (int i = 0; i < 480; ++i) many += dried.rain(0, 360, standing);
  CHECK(dried.columns.root_deficit[0] == 0);
  CHECK_THAT(many, WithinRel(once, 1e-9));
  CHECK_THAT(dried.front_depth() * (soil.porosity - 0.3), WithinRel(many - 0.02, 1e-9));
}

TEST_CASE("Capacity is continuous where a second front overtakes the first") {
  const Parameters soil = silt_loam(3.0);
  Column column(soil, 0.25);
  column.columns.ponded_head = false;
  column.columns.front[0] = 0.02;
  column.columns.front_content[0] = 0.40;
  double standing = 10;
  const double once = column.capacity(0, 24 * hour, 10) * 24 * hour;
  double many = 0, previous = 1;
  bool overtaken = false;
  for (int i = 0; i < 2880; ++i) {
    const double rate = column.rain(0, 30, standing) / 30;
    CHECK(rate <= previous * (1 + 1e-9));
    CHECK(rate > soil.conductivity);
    previous = rate;
    many += rate * 30;
    overtaken = column.columns.second_front[0] == 0;
  }
  CHECK(overtaken);
  CHECK_THAT(many, WithinRel(once, 1e-9));
}

TEST_CASE("A full column takes in what leaves it below, as far as Darcy's law through it permits") {
  Parameters soil = silt_loam(0.18);
  Column column(soil, 0.3);
  column.saturated[0] = 0.18;
  const auto capacity = [&](double leaving, double ponded) {
    const std::vector<double> standing{ponded}, none{0.0}, below{leaving};
    std::vector<double> rate(1);
    infiltration_capacity(column.columns, column.saturated, standing, none, 600, rate, {below, true});
    return rate[0];
  };
  CHECK(capacity(0, 0.05) == 0);
  CHECK(capacity(0.2 * soil.conductivity, 0.05) == 0.2 * soil.conductivity);
  CHECK_THAT(capacity(1, 0.09), WithinRel(1.5 * soil.conductivity, 1e-12));
  column.saturated[0] = 0.18 - 1e-3; // the room that is left counts as well
  const double room = (soil.porosity - 0.3) * 1e-3;
  CHECK_THAT(capacity(0.2 * soil.conductivity, 0.05), WithinRel(0.2 * soil.conductivity + room / 600, 1e-9));
  soil.crust_thickness = 0.01;
  soil.crust_conductivity = 0.01 * soil.conductivity;
  column = Column(soil, 0.3);
  column.saturated[0] = 0.18;
  CHECK_THAT(capacity(1, 0.09), WithinRel((0.18 + 0.01 + 0.09) / (0.18 + 1.0) * soil.conductivity, 1e-12));
}

TEST_CASE("A column full since water stood on it takes Darcy's flow, not a front's") {
  Parameters soil = silt_loam(0.18);
  Column column(soil, 0.3);
  const std::vector<std::uint8_t> sealed{1};
  const auto capacity = [&](double drawn, double sinking, double ponded) {
    column.saturated[0] = 0.18 - drawn;
    const std::vector<double> standing{ponded}, none{0.0}, below{sinking};
    std::vector<double> rate(1);
    infiltration_capacity(column.columns, column.saturated, standing, none, 60, rate,
                          {{}, true, sealed, below});
    return rate[0] / soil.conductivity;
  };
  // Drawn down by a tenth, and by a hundredth; a front would run at many times the conductivity.
  CHECK_THAT(capacity(0.018, 0, 0), WithinRel(0.3, 1e-9));
  CHECK_THAT(capacity(0.0018, 0, 0.0018), WithinRel(0.06, 1e-9));
  CHECK_THAT(capacity(0.018, 0.1 * soil.conductivity, 0), WithinRel(0.4, 1e-9));
  CHECK_THAT(capacity(0.15, 0, 0.009),
             WithinRel(1.05, 1e-9));                // no more than through a column that drains below
  CHECK(capacity(0, soil.conductivity, 0.01) == 0); // no room
}

TEST_CASE("Ground without water can be left out; the rest is as it is") {
  const std::size_t n = 4;
  const Columns columns = make_columns({silt_loam(0.18)}, {0, 0, 0, 0}, {1, 1, 1, 1}, {0.3});
  const std::vector<double> saturated(n, 0.02), standing{0, 0.01, 0, 0.002}, supply{0, 0, 1e-6, 1e-6};
  std::vector<double> all(n), some(n);
  infiltration_capacity(columns, saturated, standing, supply, 300, all);
  infiltration_capacity(columns, saturated, standing, supply, 300, some, {{}, false});
  CHECK(all[0] > 0);
  CHECK(some[0] == 0);
  for (std::size_t c = 1; c < n; ++c) CHECK(some[c] == all[c]);
}
