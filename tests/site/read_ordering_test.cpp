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
  const InputError share =
      sample::error_of(sample::yard("[takeoff]\nswell = \"25 %\"\n")); // as the trade says it
  CHECK_THAT(share.mend, ContainsSubstring("1.25"));
}

TEST_CASE("a price is spoken of at the line of its item, wherever the table begins") {
  const std::string text =
      sample::yard("[[rate]]\n# what the yard charges\nprice = 1\n\nper = \"ft2\"\nitem = \"sod\"\n");
  const site::Site site = sample::read(text);
  const auto before = text.substr(0, text.find("item = \"sod\""));
  REQUIRE(site.ordering.rates.size() == 1);
  CHECK(site.ordering.rates[0].line == 1 + std::count(before.begin(), before.end(), '\n'));
}

TEST_CASE("figures of an order that nobody means are told with what they do") {
  const auto odd = [](const std::string& key, const std::string& value) {
    std::string all;
    for (const std::string& warning :
         sample::read(sample::yard("[takeoff]\n" + key + " = \"" + value + "\"\n")).warnings)
      if (warning.find("takeoff." + key) != std::string::npos) all += warning;
    return all;
  };
  CHECK_THAT(odd("fabric_lap", "1e30 ft"), ContainsSubstring("more fabric is ordered"));
  CHECK_THAT(odd("sod_margin", "1e30 ft"), ContainsSubstring("more sod is ordered"));
  CHECK_THAT(odd("pipe_piece", "1e30 ft"), ContainsSubstring("longer than any that is sold"));
  CHECK_THAT(odd("truck", "1e30 yd3"), ContainsSubstring("one load"));
  for (const auto& [key, usual] : {std::pair{"fabric_lap", "12 in"}, std::pair{"sod_margin", "6 in"},
                                   std::pair{"pipe_piece", "250 ft"}, std::pair{"truck", "3 yd3"}})
    CHECK(odd(key, usual) == "");
}
