#include "sample.hpp"

#include <lowspot/site/climate.hpp>

using namespace lowspot;

TEST_CASE("months may be named by three letters, and a wrong one is answered with those there are") {
  CHECK(sample::read(sample::yard("[storm]\ndepth = \"1 in\"\nmonth = \"jul\"\n")).storm.month == "July");
  CHECK(sample::read(sample::yard("[storm]\ndepth = \"1 in\"\nmonth = \"May\"\n")).storm.daily_high == 23);
  CHECK_THAT(sample::error_of(sample::yard("[storm]\ndepth = \"1 in\"\nmonth = \"Juny\"\n")).expected,
             ContainsSubstring("July"));
}

TEST_CASE("a start is a moisture between the wilting point and saturation") {
  site::Soil soil;
  soil.depth = {0.2, 0.2, 0.2};
  soil.porosity = 0.5, soil.field_capacity = 0.3, soil.wilting_point = 0.1;
  CHECK(site::start_content(soil, site::StartMoisture::drained) == 0.3);
  CHECK_THAT(site::start_content(soil, site::StartMoisture::moist), WithinRel(0.35, 1e-12));
  CHECK_THAT(site::start_content(soil, site::StartMoisture::dry), WithinRel(0.2, 1e-12));
  CHECK(site::start_perched(soil, site::StartMoisture::moist) == 0);
  CHECK_THAT(site::start_perched(soil, site::start_named("wet")), WithinRel(0.0762, 1e-12));
}

TEST_CASE("a month by its number is answered with names") {
  for (const char* number : {"13", "5", "05."}) {
    const auto error = sample::error_of(
        sample::yard("[storm]\ndepth = \"2 in\"\nmonth = \"" + std::string(number) + "\"\n"));
    CHECK(error.where.key == "storm.month");
    CHECK_THAT(error.mend, ContainsSubstring("name instead of a number"));
  }
}

TEST_CASE("more evaporation than a hot day's is said of the storm and of the season, in the yard's units") {
  const std::string storm = "[storm]\ndepth = \"1 in\"\n";
  const auto warned = [&](const std::string& more) {
    return sample::warned(sample::read(sample::yard(storm + more)), "more than a hot dry day draws");
  };
  CHECK_FALSE(warned("reference_et = \"0.3 in/d\"\n[season]\nreference_et = \"0.4 in/d\"\n"));
  CHECK(warned("reference_et = \"0.7 in/d\"\n"));
  // The unit of rain where that of evaporation was meant: 24 times as much.
  CHECK(warned("[season]\nreference_et = \"0.2 in/hr\"\n"));
  const site::Site season = sample::read(sample::yard(storm + "[season]\nreference_et = \"0.2 in/hr\"\n"));
  CHECK(sample::warned(season, "season.reference_et: 4.8 in/d"));
}
