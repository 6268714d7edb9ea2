#include <lowspot/study/upkeep.hpp>

#include "catch.hpp"
#include "study/tuned_yard.hpp"

using namespace lowspot;

TEST_CASE("each kind of cap and outlet asks for its own, and none is said twice") {
  const SimpleYard yard = bowl_to_tune();
  site::Design design = yard.site.designs.front();
  design.runs.push_back(design.runs.front());
  CHECK(study::upkeep_of(design).size() == 2); // stone, daylight
  design.runs[1].cap = sod_cap();
  design.outlets[0].kind = "pump";
  const std::vector<std::string> words = study::upkeep_of(design);
  REQUIRE(words.size() == 3);
  CHECK_THAT(words[0], ContainsSubstring("rake"));
  CHECK_THAT(words[1], ContainsSubstring("soil"));
  CHECK_THAT(words[2], ContainsSubstring("power cut"));
  CHECK(study::upkeep_of(site::Design{}).empty());
}
