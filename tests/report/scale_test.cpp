#include "catch.hpp"

#include <algorithm>

#include <lowspot/report/scale.hpp>

#include "results/sample_comparison.hpp"

using namespace lowspot::report;

TEST_CASE("the target is a bound of the scale of hours") {
  auto all = sample::comparison();
  for (const double hours : {24.0, 36.0, 48.0}) {
    all.clear_within = hours * 3600;
    const Scale scale = hours_scale(all);
    CHECK(scale.target == hours);
    CHECK(std::find(scale.bounds.begin(), scale.bounds.end(), hours) != scale.bounds.end());
    CHECK(scale.colors.size() == scale.bounds.size());
  }
}

TEST_CASE("classes hold their lower bound") {
  const Scale scale = hours_scale(sample::comparison()); // 1 3 6 12 24 48 96
  CHECK(class_of(scale, 0.99) == -1);
  CHECK(class_of(scale, 1) == 0);
  CHECK(class_of(scale, 23.9) == 3);
  CHECK(class_of(scale, 24) == 4);
  CHECK(class_of(scale, 1e6) == 6);
}

TEST_CASE("the scale of depth reaches the deepest design and stays readable") {
  auto all = sample::comparison();
  for (const char* site_units : {"ft", "m"})
    for (const double deepest : {0.001, 0.06, 0.3, 2.0}) {
      all.designs[0].max_depth[100] = deepest;
      const Units units = units_for(site_units);
      const Scale scale = depth_scale(all, units);
      CHECK(scale.bounds.size() >= 3);
      CHECK(scale.bounds.size() <= 8);
      CHECK(std::is_sorted(scale.bounds.begin(), scale.bounds.end()));
      if (deepest > 0.06) CHECK(scale.bounds.back() < units.depth.of(deepest));
    }
}

TEST_CASE(
    "water in the soil has its own scale, up to the most of all designs, and soggy hours no target line") {
  auto all = sample::comparison();
  for (auto& design : all.designs) design.perched_max.assign(all.grid.cells(), 0.02);
  all.designs[1].perched_max[7] = 0.19;
  const Scale scale = perched_scale(all, units_for("ft"));
  CHECK(scale.bounds.back() <= 0.19 / 0.0254);
  CHECK(scale.bounds.back() >= 4);
  CHECK(scale.colors.size() == scale.bounds.size());
  CHECK(soggy_scale(all).target < 0);
  // The hours beside it on the pages run from the end of the rain; these do not.
  CHECK_THAT(soggy_scale(all).title, ContainsSubstring("soggy, rain included"));
  CHECK(soggy_scale(all).bounds == hours_scale(all).bounds);
}
