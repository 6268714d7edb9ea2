#include "catch.hpp"

#include <lowspot/site/unknowns.hpp>

using namespace lowspot::site;

TEST_CASE("what nobody measured is UNKNOWN, what was measured is not") {
  Site site;
  Soil soil;
  soil.name = "yard";
  soil.tight_conductivity = {1e-7, 1e-7, 1e-7};
  site.soils = {soil};
  std::vector<std::string> list = unknowns(site);
  REQUIRE(list.size() == 3);
  CHECK_THAT(list[0], ContainsSubstring("levels"));
  CHECK_THAT(list[1], ContainsSubstring("no band is given"));
  CHECK_THAT(list[2], ContainsSubstring("designs"));

  site.ground.levels = "levels.csv";
  site.designs.resize(1);
  site.soils[0].tight_conductivity = {1e-8, 1e-7, 1e-6};
  CHECK(unknowns(site).empty());

  site.assumptions = {{"soil[1].tight_layer.conductivity", "0.02 in/hr", "default"}};
  list = unknowns(site);
  REQUIRE(list.size() == 1);
  CHECK_THAT(list[0], ContainsSubstring("usual figure"));
  site.assumptions[0].tag = "measured";
  CHECK(unknowns(site).empty());
}
