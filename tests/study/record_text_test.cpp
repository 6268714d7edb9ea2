#include <lowspot/study/record_text.hpp>

#include <cmath>

#include "catch.hpp"
#include "results/sample_comparison.hpp"

using namespace lowspot;

TEST_CASE("figures of a run read back as they were") {
  results::Comparison all = sample::comparison();
  all.designs[0].still_standing = true;
  all.designs[0].beds[0].still_soggy = all.designs[0].beds[0].spell_open = true;
  for (const results::DesignRecord& design : all.designs) {
    const std::string text = study::record_text(design, all.end_of_rain);
    CHECK(text.find('\n') == std::string::npos);
    const results::DesignRecord back = study::record_from(text);
    CHECK(back.name == design.name);
    CHECK(back.ledger.closure == design.ledger.closure);
    REQUIRE(back.areas.size() == design.areas.size());
    CHECK(back.areas[1].standing_hours_after_rain == design.areas[1].standing_hours_after_rain);
    CHECK(back.areas[0].under_slab == design.areas[0].under_slab);
    REQUIRE(back.beds.size() == 1);
    CHECK(back.beds[0].days_below_half_available_water == design.beds[0].days_below_half_available_water);
    CHECK(back.beds[0].still_soggy == design.beds[0].still_soggy);
    CHECK(back.beds[0].spell_open == design.beds[0].spell_open);
    REQUIRE(back.drains.size() == design.drains.size());
    if (!back.drains.empty()) CHECK(back.drains[0].limit_hours == design.drains[0].limit_hours);
    CHECK(back.edges[0].volume == design.edges[0].volume);
    CHECK(back.time.back() == design.time.back());
    CHECK(back.still_standing == design.still_standing);
    CHECK(study::record_text(back, all.end_of_rain) == text); // nothing is lost on a second way
  }
}

TEST_CASE("what is not a number stays so, and other text is refused") {
  results::DesignRecord record;
  record.edges = {{"south", std::nan(""), 1}};
  CHECK(std::isnan(study::record_from(study::record_text(record, 0)).edges[0].peak_flow));
  CHECK_THROWS_WITH(study::record_from("{}"), ContainsSubstring("not the figures of a run"));
  CHECK_THROWS(study::record_from("half a li"));
}

TEST_CASE("of the wettest spot the last moment goes along, counted from the end of the rain") {
  results::DesignRecord record;
  record.standing_hours = {20};
  record.last_standing = {32 * 3600.0};
  CHECK(study::record_from(study::record_text(record, 2 * 3600)).standing_hours[0] == 30);
}
