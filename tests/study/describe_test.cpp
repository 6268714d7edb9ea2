#include "catch.hpp"
#include "simple_yard.hpp"

#include <lowspot/study/describe.hpp>

using namespace lowspot;

TEST_CASE("a yard is described without a run") {
  SimpleYard yard = simple_yard(4, 3, 0.5, [](double x, double) { return 1 + x; });
  add_whole_area(yard, "court");
  rain_at(yard, 1e-5, 1800);
  yard.site.warnings = {"one"};
  yard.ground.warnings = {"two"};
  yard.rain.warnings = {"three"};
  yard.site.assumptions = {{"a", "1", "said"}};
  yard.ground.assumptions = {{"b", "2", "default"}};
  const results::Comparison all = study::describe(yard.site, yard.ground, yard.rain, "9");
  CHECK(all.version == "9");
  CHECK(all.grid.cells() == 12);
  CHECK(all.cover_names == std::vector<std::string>{"court"});
  CHECK(all.warnings == std::vector<std::string>{"one", "two", "three"});
  REQUIRE(all.defaults.size() == 2);
  CHECK(all.defaults[1][0] == "b");
  CHECK_THAT(all.storm_depth, WithinAbs(0.018, 1e-15));
  CHECK(all.end_of_rain == 1800);
  CHECK(all.storm_duration == 1800);
  CHECK(all.designs.empty());
}

TEST_CASE("a run that ends before the rain does is warned of") {
  SimpleYard yard = simple_yard(4, 3, 0.5, [](double, double) { return 1.0; });
  rain_at(yard, 1e-5, 1800);
  yard.site.run.until = 1800;
  CHECK(study::describe(yard.site, yard.ground, yard.rain, "9").warnings.empty());
  yard.site.run.until = 1700;
  const results::Comparison all = study::describe(yard.site, yard.ground, yard.rain, "9");
  REQUIRE(all.warnings.size() == 1);
  CHECK_THAT(all.warnings[0], ContainsSubstring("before the rain does"));
}

TEST_CASE("a size of cells that was assumed is not told where another was asked for") {
  SimpleYard yard = simple_yard(4, 3, 0.5, [](double, double) { return 1.0; });
  rain_at(yard, 1e-5, 1800);
  yard.site.assumptions = {{"site.cell", "0.5 m", "default"}, {"a", "1", "said"}};
  yard.site.cell = 0.5;
  CHECK(study::describe(yard.site, yard.ground, yard.rain, "9").defaults.size() == 2);
  yard.site.cell = 0.15; // the site file's; the ground was made of cells of 0.5 m
  const results::Comparison all = study::describe(yard.site, yard.ground, yard.rain, "9");
  REQUIRE(all.defaults.size() == 1);
  CHECK(all.defaults[0][0] == "a");
}
