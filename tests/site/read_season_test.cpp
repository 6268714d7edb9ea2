#include "sample.hpp"

using namespace lowspot;

TEST_CASE("a season without figures of its own follows the storm") {
  const site::Site site = sample::read(
      sample::yard("[storm]\ndepth = \"1 in\"\nmonth = \"May\"\n[season]\ndry_spell = \"60 d\"\n"));
  CHECK(site.season.dry_spell == 60 * 86400.0);
  CHECK(site.season.reference_et == site.storm.reference_et);
  CHECK_FALSE(site.season.start.has_value());
  CHECK(sample::read(sample::yard("")).season.dry_spell == 0);
}

TEST_CASE("a season may have its month, its demand and its start") {
  const site::Site site =
      sample::read(sample::yard("[season]\ndry_spell = \"8 wk\"\nmonth = \"July\"\nstart = \"moist\"\n"));
  CHECK(site.season.month == "July");
  CHECK(site.season.reference_et == 5.5e-8);
  CHECK(site.season.daily_high == 30);
  CHECK(site.season.start == site::StartMoisture::moist);
  CHECK_THAT(sample::error_of(sample::yard("[season]\nstart = \"soggy\"\n")).expected,
             ContainsSubstring("drained"));
}
