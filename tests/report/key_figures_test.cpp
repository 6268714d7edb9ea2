#include "catch.hpp"

#include <lowspot/report/key_figures.hpp>

#include "results/sample_comparison.hpp"

using namespace lowspot::report;

TEST_CASE("the slowest judged area speaks for a design") {
  auto design = sample::comparison().designs[0];
  CHECK(slowest_area(design)->name == "long bed");
  CHECK(hours_caption(design) == "long bed stands 48 h after the rain");
  CHECK(depth_caption(design, units_for("ft")) == "long bed up to 2.4 in deep");
  design.areas[2].standing_hours_after_rain = 500; // not judged
  CHECK(slowest_area(design)->name == "long bed");
  for (auto& area : design.areas) area.judged = false;
  CHECK(slowest_area(design)->name == "lawn");
}

TEST_CASE("water that still stood at the end outranks any hours") {
  auto design = sample::comparison().designs[0];
  design.areas[0].still_standing = true;
  CHECK(slowest_area(design)->name == "patio");
  CHECK(standing_text(design.areas[0]) == "over 14 h");
}

TEST_CASE("dry yards and yards without areas") {
  lowspot::results::DesignRecord design;
  CHECK(slowest_area(design) == nullptr);
  CHECK(hours_caption(design).empty());
  design.areas = {{"lawn", 0, 0, 0, 0, 0, true, true, false}};
  CHECK(hours_caption(design) == "no water stands after the rain");
  CHECK(depth_caption(design, units_for("m")) == "no water on the ground");
}

TEST_CASE("soggy is told apart from standing, and a slab is said to have the water under it") {
  lowspot::results::DesignRecord design;
  lowspot::results::AreaRecord patio;
  patio.name = "patio";
  design.areas = {patio};
  CHECK(soggy_caption(design) == "the ground is firm once the rain is over");
  CHECK(soggy_text(patio) == "not soggy");
  design.areas[0].soggy_hours_after_rain = 34;
  design.areas[0].under_slab = true;
  CHECK(soggy_caption(design) == "under patio the soil stays full for 34 h after the rain");
  design.areas[0].still_soggy = true;
  CHECK(soggy_text(design.areas[0]) == "over 34 h");
  CHECK(perched_caption(design, units_for("m")) == "no water stands in the soil");
  design.areas[0].perched_max = 0.1;
  CHECK(perched_caption(design, units_for("m")) == "under patio: up to 100 mm");
}

TEST_CASE("a run that ends within an hour of the rain is said to, not to last over nothing") {
  auto design = sample::comparison().designs[0];
  design.areas = {design.areas[1]};
  auto& area = design.areas[0];
  area.still_standing = area.still_soggy = true;
  area.standing_hours_after_rain = 0.4, area.soggy_hours_after_rain = 0;
  CHECK(standing_text(area) == "still standing at the end");
  CHECK(hours_caption(design) == "water still stands on long bed at the end");
  CHECK(soggy_text(area) == "still soggy at the end");
  CHECK(soggy_caption(design) == "long bed is still soggy at the end");
  area.under_slab = true;
  CHECK(soggy_caption(design) == "under long bed the soil is still full at the end");
}

TEST_CASE("hours beside a target do not read as if they kept it") {
  CHECK(judged_hours(24.6, false, 24 * 3600) == "just over 24 h");
  CHECK(judged_hours(23.6, false, 24 * 3600) == "24 h");
  CHECK(judged_hours(34, false, 24 * 3600) == "34 h");
  CHECK(judged_hours(168, true, 24 * 3600) == "over 7 days");
  CHECK(judged_hours(0.4, true, 24 * 3600) == "still standing at the end");
}

TEST_CASE("a pit is said to be empty as its check found it, without what that leads to") {
  lowspot::results::DesignRecord design;
  lowspot::results::CheckRecord check;
  check.id = "drain_down";
  check.about = "pit";
  check.found = "empty 60 h after the rain: after 48 h it is still 20 % full, so that a storm that follows";
  design.checks = {check};
  CHECK(emptied_text(design, "pit") == "empty 60 h after the rain");
  CHECK(emptied_text(design, "garden").empty());
  design.checks[0].id = "another";
  CHECK(emptied_text(design, "pit").empty());
}
