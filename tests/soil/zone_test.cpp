#include "catch.hpp"
#include "soils.hpp"

#include <lowspot/soil/zone.hpp>

using namespace lowspot::soil;
using namespace soils;

namespace {
// 0.30 m of sandy loam: content 0.40 to 0.04 m, 0.35 to 0.10 m, 0.20 below, and 6 mm drawn from 0.10 to 0.25
// m.
Zone example(const Parameters& soil) {
  Zone zone;
  zone.soil = &soil;
  zone.thickness = 0.30;
  zone.background = 0.20;
  zone.front = 0.015;
  zone.front_content = 0.35;
  zone.second = 0.002;
  zone.second_content = 0.40;
  zone.root_deficit = 0.006;
  zone.root_depth = 0.25;
  return zone;
}
} // namespace

TEST_CASE("Water in the top of a zone follows its layers") {
  const Parameters soil = sandy_loam();
  const Zone zone = example(soil);
  CHECK_THAT(zone.front_depth(), WithinRel(0.10, 1e-12));
  CHECK_THAT(zone.second_depth(), WithinRel(0.04, 1e-12));
  CHECK_THAT(water_in_top(zone, 0.04), WithinRel(0.04 * 0.40, 1e-12));
  CHECK_THAT(water_in_top(zone, 0.10), WithinRel(0.016 + 0.06 * 0.35, 1e-12));
  CHECK_THAT(water_in_top(zone, 0.175), WithinRel(0.037 + 0.075 * 0.16, 1e-12));
  CHECK_THAT(water_in_top(zone, 5.0), WithinRel(zone.water(), 1e-12));
  CHECK_THAT(zone.free_space(), WithinRel(soil.porosity * 0.30 - zone.water(), 1e-12));
}

TEST_CASE("Moving water between front, background and deficit keeps the sum") {
  const Parameters soil = sandy_loam();
  const double before = example(soil).water();
  Zone zone = example(soil);
  merge_fronts(zone);
  CHECK_THAT(zone.water(), WithinRel(before, 1e-14));
  CHECK_THAT(zone.front_depth(), WithinRel(0.10, 1e-12));
  CHECK(zone.second == 0);

  zone = example(soil);
  dissolve_front(zone);
  CHECK_THAT(zone.water(), WithinRel(before, 1e-14));
  CHECK(zone.front == 0.002);
  CHECK(zone.front_content == 0.40);

  zone = example(soil);
  zone.root_depth = 0.5;
  fold_deficit(zone);
  CHECK_THAT(zone.water(), WithinRel(before, 1e-14));
  CHECK_THAT(zone.background, WithinRel(0.20 - 0.006 / 0.20, 1e-12));
  CHECK_THAT(zone.front_depth(), WithinRel(0.10, 1e-12));
}

TEST_CASE("A front that advances fills the deficit it meets and no more") {
  const Parameters soil = sandy_loam();
  Zone zone = example(soil);
  const double before = zone.water();
  zone.front += 0.0095; // 0.05 m further into soil of 0.16: 0.05 * (0.35 - 0.16)
  fill_deficit(zone, 0.10);
  CHECK_THAT(zone.front_depth(), WithinRel(0.15, 1e-12));
  CHECK_THAT(zone.root_deficit, WithinRel(0.004, 1e-12));
  CHECK_THAT(zone.water(), WithinRel(before + 0.0095, 1e-12));
  zone.front += 0.1;
  zone.thickness = 2;
  fill_deficit(zone, 0.15);
  CHECK(zone.root_deficit == 0);
}

TEST_CASE("Another background leaves fronts and roots as they are") {
  const Parameters soil = sandy_loam();
  for (double content : {0.18, 0.26}) {
    Zone zone = example(soil);
    set_background(zone, content);
    CHECK_THAT(zone.water(), WithinRel(example(soil).water() + (content - 0.20) * 0.05, 1e-12));
    CHECK_THAT(zone.front_depth(), WithinRel(0.10, 1e-12));
    CHECK_THAT(water_in_top(zone, 0.25), WithinRel(water_in_top(example(soil), 0.25), 1e-12));
  }
  // Wetter than the first front: only the second one stays.
  Zone zone = example(soil);
  set_background(zone, 0.36);
  CHECK_THAT(zone.water(), WithinRel(example(soil).water() + 0.16 * 0.05, 1e-12));
  CHECK(zone.second == 0);
}

TEST_CASE("The lowest layer is dry where roots reach the table") {
  const Parameters soil = sandy_loam();
  Zone zone = example(soil);
  CHECK(content_above_table(zone) == 0.20);
  zone.root_depth = 0.30;
  CHECK_THAT(content_above_table(zone), WithinRel(0.17, 1e-12));
}
