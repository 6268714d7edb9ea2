#include <lowspot/study/shares.hpp>

#include "catch.hpp"

using namespace lowspot;

namespace {
results::SourceShares three_sources() {
  results::SourceShares shares;
  shares.sources = {{"house, west downspout", "roof"}, {"rain on patio", "rain"}, {"rain on bed", "rain"}};
  return shares;
}
} // namespace

TEST_CASE("shares come largest first and sum to one") {
  const std::vector<study::SharePart> parts = study::largest_first(three_sources(), {1.0, 6.0, 3.0});
  REQUIRE(parts.size() == 3);
  CHECK(parts[0].source == "rain on patio");
  CHECK(parts[1].source == "rain on bed");
  CHECK(parts[2].kind == "roof");
  CHECK_THAT(parts[0].share, WithinAbs(0.6, 1e-15));
  CHECK_THAT(parts[0].share + parts[1].share + parts[2].share, WithinAbs(1.0, 1e-15));
  CHECK(study::largest_first(three_sources(), {0.0, 2.0, 0.0}).size() == 1);
}

TEST_CASE("the sentence names what matters") {
  results::PlaceShares place;
  place.at_peak = {0.25, 0.62, 0.13};
  CHECK(
      study::shares_sentence(three_sources(), place) ==
      "At its fullest 62 % of the water is rain on patio, 25 % house, west downspout and 13 % rain on bed.");
  place.at_peak = {0.02, 0.95, 0.03};
  CHECK(study::shares_sentence(three_sources(), place) ==
        "At its fullest 95 % of the water is rain on patio; the other 5 % came other ways.");
  place.at_peak = {0, 0, 0};
  CHECK(study::shares_sentence(three_sources(), place).empty());
  place.at_peak = {1e-9, 1, 0};
  CHECK(study::shares_sentence(three_sources(), place) ==
        "At its fullest over 99 % of the water is rain on patio.");
}

TEST_CASE("places are found by kind and name") {
  results::SourceShares shares = three_sources();
  shares.places.resize(2);
  shares.places[0].name = shares.places[1].name = "bed";
  shares.places[0].kind = "gauge";
  shares.places[1].kind = "area";
  CHECK(study::find_place(shares, "area", "bed") == &shares.places[1]);
  CHECK(study::find_place(shares, "low spot", "bed") == nullptr);
}
