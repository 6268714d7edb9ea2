#include <lowspot/study/record_text.hpp>

#include <cmath>

#include "catch.hpp"
#include "results/sample_comparison.hpp"

using namespace lowspot;

TEST_CASE("figures of a run read back as they were") {
  results::Comparison all = sample::comparison();
  all.designs[0].still_standing = true;
  for (const results::DesignRecord& design : all.designs) {
    const std::string text = study::record_text(design);
    CHECK(text.find('\n') == std::string::npos);
    const results::DesignRecord back = study::record_from(text);
    CHECK(back.name == design.name);
    CHECK(back.ledger.closure == design.ledger.closure);
    REQUIRE(back.areas.size() == design.areas.size());
    CHECK(back.areas[1].standing_hours_after_rain == design.areas[1].standing_hours_after_rain);
    CHECK(back.areas[0].under_slab == design.areas[0].under_slab);
    REQUIRE(back.beds.size() == 1);
    CHECK(back.beds[0].days_below_half_available_water == design.beds[0].days_below_half_available_water);
    REQUIRE(back.drains.size() == design.drains.size());
    if (!back.drains.empty()) CHECK(back.drains[0].limit_hours == design.drains[0].limit_hours);
    CHECK(back.edges[0].volume == design.edges[0].volume);
    CHECK(back.time.back() == design.time.back());
    CHECK(back.still_standing == design.still_standing);
    CHECK(study::record_text(back) == text); // nothing is lost on a second way
  }
}

TEST_CASE("what is not a number stays so, and other text is refused") {
  results::DesignRecord record;
  record.edges = {{"south", std::nan(""), 1}};
  CHECK(std::isnan(study::record_from(study::record_text(record)).edges[0].peak_flow));
  CHECK_THROWS_WITH(study::record_from("{}"), ContainsSubstring("not the figures of a run"));
  CHECK_THROWS(study::record_from("half a li"));
}
