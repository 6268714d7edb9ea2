#include "catch.hpp"

#include <sstream>

#include <lowspot/base/csv.hpp>
#include <lowspot/report/levels_words.hpp>

#include "report/sample_levels.hpp"

using namespace lowspot;
using namespace lowspot::report;

TEST_CASE("small heights read as on a rule", "[levels_words]") {
  site::Site feet, metres;
  metres.units = "m";
  metres.unit = 1;
  CHECK(small_height(0.0254 / 8, feet) == "1/8 in");
  CHECK(small_height(-0.0254 * 2.5, feet) == "2 1/2 in");
  CHECK(small_height(0.0254 * 3, feet) == "3 in");
  CHECK(small_height(0.0001, feet) == "less than 1/16 in");
  CHECK(small_height(0.3048 * 2, feet) == "2.00 ft");
  CHECK(small_height(0.0032, metres) == "3.2 mm");
  CHECK(small_height(-0.042, metres) == "42 mm");
  CHECK(small_height(1.25, metres) == "1.250 m");
}

TEST_CASE("the sentence says how the book closes and what looks wrong", "[levels_words]") {
  auto sentence = [](const site::Site& site) { return levels_sentence(terrain::review_levels(site), site); };
  CHECK_THAT(sentence(sample::levels_site("a.csv")),
             ContainsSubstring("close to 1/8 in over one set-up; one shot looks wrong"));
  CHECK_THAT(sentence(sample::levels_site("b.csv", false, "4.32")),
             ContainsSubstring("close exactly over one set-up; no shot looks wrong."));
  CHECK_THAT(sentence(sample::levels_site("c.csv", false, "4.40")),
             ContainsSubstring("do not close: they miss \"BM\" by 15/16 in"));
  CHECK_THAT(sentence(sample::levels_site("d.csv", false, "")),
             ContainsSubstring("not closed on a known point"));
}

TEST_CASE("the reduced table is safe in a spreadsheet and can be read as levels again", "[levels_words]") {
  const site::Site site = sample::levels_site("e.csv", true, "4.33", "\"=1+2,x\"");
  const terrain::LevelReview review = terrain::review_levels(site);
  const std::string text = reduced_csv(review, site);
  CHECK_THAT(text, ContainsSubstring("\n\"'=1+2,x\",0.000,0.000,"));
  CHECK_THAT(text, ContainsSubstring("looks wrong"));
  const CsvTable table = parse_csv(text, "levels_reduced.csv");
  const terrain::LevelBook again = terrain::reduce_levels(table, {});
  REQUIRE(again.shots.size() == review.book.shots.size());
  for (std::size_t k = 0; k < again.shots.size(); ++k)
    CHECK_THAT(again.shots[k].at.z, WithinAbs(review.book.shots[k].at.z, 0.0005 * 0.3048 + 1e-9));
}
