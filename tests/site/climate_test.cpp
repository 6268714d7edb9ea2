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
