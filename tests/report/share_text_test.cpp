#include "catch.hpp"

#include <lowspot/report/share_text.hpp>
#include <lowspot/study/shares.hpp>

using namespace lowspot;

TEST_CASE("a share of a puddle is written as the sentence about it has it") {
  CHECK(report::share_text(0.125) == "13 %"); // not to the even one
  CHECK(report::share_text(0.076) == "8 %");
  CHECK(report::share_text(0) == "none");
  CHECK(report::share_text(1) == "100 %");
  for (const double part : {0.625, 0.545, 0.996, 0.9999}) {
    results::SourceShares shares;
    shares.sources = {{"rain on patio", "rain"}, {"house", "roof"}};
    results::PlaceShares place;
    place.at_peak = {part, 1 - part};
    CHECK_THAT(study::shares_sentence(shares, place),
               ContainsSubstring("At its fullest " + report::share_text(part) + " of the water"));
  }
}
