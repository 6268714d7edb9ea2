#include <lowspot/study/upkeep.hpp>

#include <algorithm>

#include "catch.hpp"
#include "study/tuned_yard.hpp"

using namespace lowspot;

TEST_CASE("each kind of cap and outlet asks for its own, and none is said twice") {
  const SimpleYard yard = bowl_to_tune();
  site::Design design = yard.site.designs.front();
  design.runs.push_back(design.runs.front());
  CHECK(study::upkeep_of(yard.site, design).size() == 2); // stone, daylight
  design.runs[1].cap = sod_cap();
  design.outlets[0].kind = "pump";
  const std::vector<std::string> words = study::upkeep_of(yard.site, design);
  REQUIRE(words.size() == 3);
  CHECK_THAT(words[0], ContainsSubstring("rake"));
  CHECK_THAT(words[1], ContainsSubstring("soil"));
  CHECK_THAT(words[2], ContainsSubstring("power cut"));
  CHECK(study::upkeep_of(yard.site, site::Design{}).empty());
}

TEST_CASE(
    "gutters are to be kept clean where roof water is led into the drain, be it by the site file alone") {
  SimpleYard yard = bowl_to_tune();
  site::Design design = yard.site.designs.front();
  yard.site.buildings.resize(1);
  yard.site.buildings[0].downspouts.resize(1);
  site::Downspout& spout = yard.site.buildings[0].downspouts[0];
  spout.name = "spout", spout.to = design.runs.front().name;
  const auto asked = [&] {
    const std::vector<std::string> words = study::upkeep_of(yard.site, design);
    return std::count(words.begin(), words.end(), "keep gutters and leaf screens clean") == 1;
  };
  CHECK(asked());
  design.downspouts = {{"spout", "ground", 0}};
  CHECK_FALSE(asked());
}
