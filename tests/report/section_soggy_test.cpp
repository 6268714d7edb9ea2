#include "catch.hpp"

#include <lowspot/report/sections.hpp>

#include "report/picture.hpp"

using namespace lowspot::report;

TEST_CASE("water under a slab is said in a sentence, and soggy is told from puddle for every area") {
  sample::PageMaker maker;
  const std::string html = section("soggy").html(maker.page());
  CHECK_THAT(html, ContainsSubstring("Under patio the soil stays full for") &&
                       ContainsSubstring("under patio") && ContainsSubstring("puddle stands") &&
                       ContainsSubstring("ground soggy") && ContainsSubstring("as it is; with") &&
                       ContainsSubstring("4 in (100 mm)"));
  maker.comparison.designs[0].areas[0].still_soggy = true;
  CHECK_THAT(section("soggy").html(maker.page()), ContainsSubstring("stays full for over"));
  for (auto& design : maker.comparison.designs)
    design.areas[0].soggy_hours_after_rain = 0, design.areas[0].still_soggy = false;
  CHECK_THAT(section("soggy").html(maker.page()), ContainsSubstring("is not full once the rain is over"));
  for (auto& design : maker.comparison.designs) design.areas.clear();
  CHECK(section("soggy").html(maker.page()).empty());
}
