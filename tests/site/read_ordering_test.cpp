#include "sample.hpp"

using namespace lowspot;

TEST_CASE("a yard without a take-off table has the trade's usual factors and no prices") {
  const site::Site site = sample::read(sample::yard(""));
  CHECK(site.ordering.stone_waste == 0.08);
  CHECK(site.ordering.rates.empty());
  CHECK(std::isnan(site.ordering.dig_rate));
}

TEST_CASE("waste factors, laps and own prices are read") {
  const site::Site site = sample::read(sample::yard(
      "[takeoff]\nstone_waste = \"5 %\"\nfabric_lap = \"18 in\"\nswell = 1.3\ntruck = \"8 yd3\"\n"
      "dig_rate = \"20 ft/hr\"\ncurrency = \"EUR \"\n[[rate]]\nitem = \"sod\"\nprice = 0.9\nper = "
      "\"ft2\"\n"));
  CHECK_THAT(site.ordering.stone_waste, WithinAbs(0.05, 1e-12));
  CHECK_THAT(site.ordering.fabric_lap, WithinAbs(0.4572, 1e-12));
  CHECK(site.ordering.swell == 1.3);
  CHECK_THAT(site.ordering.truck, WithinAbs(8 * 0.764554857984, 1e-9));
  CHECK_THAT(site.ordering.dig_rate, WithinAbs(20 * 0.3048 / 3600, 1e-12));
  REQUIRE(site.ordering.rates.size() == 1);
  CHECK(site.ordering.rates[0].per == "ft2");
}

TEST_CASE("prices that cannot be used are refused where they stand") {
  const InputError unit =
      sample::error_of(sample::yard("[[rate]]\nitem = \"sod\"\nprice = 0.9\nper = \"acre\"\n"));
  CHECK_THAT(unit.what(), ContainsSubstring("per"));
  const InputError twice =
      sample::error_of(sample::yard("[[rate]]\nitem = \"sod\"\nprice = 1\nper = \"ft2\"\n[[rate]]\nitem = "
                                    "\"sod\"\nprice = 2\nper = \"ft2\"\n"));
  CHECK_THAT(twice.what(), ContainsSubstring("one price an item"));
  const InputError capital =
      sample::error_of(sample::yard("[[rate]]\nitem = \"sod\"\nprice = 1\nper = \"ft2\"\n[[rate]]\nitem = "
                                    "\"Sod\"\nprice = 2\nper = \"ft2\"\n"));
  CHECK_THAT(capital.what(), ContainsSubstring("a second price for \"sod\", written \"Sod\""));
  const InputError swell = sample::error_of(sample::yard("[takeoff]\nswell = 0.5\n"));
  CHECK_THAT(swell.what(), ContainsSubstring("swell"));
}
