#include "catch.hpp"
#include "soils.hpp"

using namespace soils;

TEST_CASE("Bursts drive a saturated front, drizzle and pauses let it spread; water is kept") {
  Column column(silt_loam(1.0), 0.25);
  const double before = column.water();
  CHECK(column.infiltrate(2 * mm, 60) == 0);
  CHECK(column.columns.front_content[0] == 0.501);
  CHECK(column.columns.front[0] == 2 * mm);
  column.infiltrate(0, 600);
  CHECK(column.columns.front_content[0] < 0.501);
  CHECK(column.columns.front[0] == 2 * mm);
  column.infiltrate(0.05 * mm, 600);
  CHECK(column.columns.second_front[0] == 0);
  CHECK_THAT(column.columns.front[0], WithinRel(2.05 * mm, 1e-14));
  CHECK_THAT(column.water(), WithinRel(before + 2.05 * mm, 1e-14));
}

TEST_CASE("A burst after a pause starts a second front, which overtakes the first and becomes one with it") {
  const Parameters soil = silt_loam(1.0);
  Column column(soil, 0.25);
  column.infiltrate(10 * mm, 600);
  column.infiltrate(0, 2 * hour);
  const double content = column.columns.front_content[0], depth = column.front_depth();
  column.infiltrate(2 * mm, 600);
  CHECK(column.columns.second_front[0] == 2 * mm);
  CHECK(column.columns.second_content[0] == soil.porosity);
  CHECK(column.columns.front_content[0] == content);
  const double to_fill = (soil.porosity - content) * depth - 2 * mm;
  column.infiltrate(to_fill + 1 * mm, 60);
  CHECK(column.columns.second_front[0] == 0);
  CHECK(column.columns.front_content[0] == soil.porosity);
  CHECK_THAT(column.columns.front[0], WithinRel(13 * mm + to_fill, 1e-12));
}

TEST_CASE("A third burst makes one front of the first two and starts anew") {
  const Parameters soil = silt_loam(1.0);
  Column column(soil, 0.25);
  const double before = column.water();
  column.infiltrate(10 * mm, 600);
  column.infiltrate(0, 2 * hour);
  const double depth = column.front_depth();
  column.infiltrate(2 * mm, 600);
  column.infiltrate(0, 300);
  CHECK(column.columns.second_content[0] < soil.porosity);
  CHECK(column.columns.second_content[0] > column.columns.front_content[0]);
  column.infiltrate(1 * mm, 60);
  CHECK(column.columns.second_front[0] == 1 * mm);
  CHECK(column.columns.second_content[0] == soil.porosity);
  CHECK_THAT(column.columns.front[0], WithinRel(12 * mm, 1e-14));
  CHECK(column.front_depth() >= depth);
  CHECK_THAT(column.water(), WithinRel(before + 13 * mm, 1e-14));
}

TEST_CASE("Left alone, two fronts become one and then a uniform zone") {
  Column column(sandy_loam(0.3), 0.15);
  const double before = column.water();
  column.infiltrate(15 * mm, 600);
  column.infiltrate(0, 2 * hour);
  column.infiltrate(8 * mm, 600);
  bool joined = false;
  for (int i = 0; i < 2000; ++i) {
    CHECK(column.infiltrate(0, 900) == 0);
    if (column.columns.second_front[0] == 0 && column.columns.front[0] > 0) joined = true;
  }
  CHECK(joined);
  CHECK(column.columns.front[0] == 0);
  CHECK_THAT(column.columns.background[0], WithinRel(0.15 + 23 * mm / 0.3, 1e-12));
  CHECK_THAT(column.water(), WithinRel(before + 23 * mm, 1e-13));
}

TEST_CASE("A saturated front that reaches the table fills the column to the ground") {
  const Parameters soil = silt_loam(0.18);
  for (double moisture : {0.25, 0.33, 0.45}) {
    Column column(soil, moisture);
    column.change(5 * mm);
    const double start = column.water();
    double standing = 1, in = 0, recharge = 0;
    for (int i = 0; i < 100000 && recharge == 0; ++i) {
      const double entering = column.capacity(0, 60, standing) * 60;
      recharge = column.infiltrate(entering, 60);
      in += entering;
      standing -= entering;
    }
    CHECK(recharge > 0);
    const auto change = column.change(recharge);
    CHECK_THAT(column.saturated[0], WithinAbs(0.18, 1e-10));
    CHECK(change.overflow < 1e-12);
    CHECK_THAT(column.water() + change.overflow, WithinAbs(start + in, 1e-14));
    CHECK_THAT(column.water(), WithinAbs(soil.porosity * 0.18, 1e-10));
  }
}

TEST_CASE("Water put on a full column comes straight back, and inactive cells keep still") {
  Column column(silt_loam(0.18), 0.3);
  column.saturated[0] = 0.18;
  CHECK(column.infiltrate(1 * mm, 10) == 1 * mm);
  column.columns.active[0] = 0;
  CHECK(column.infiltrate(0, 10) == 0);
}
