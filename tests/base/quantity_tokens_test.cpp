#include "catch.hpp"

#include <lowspot/base/quantity_tokens.hpp>

using namespace lowspot;

TEST_CASE("A quantity is cut into numbers, words and signs") {
  const QuantityTokens cut = cut_quantity("6'4 3/8\" per ft2");
  REQUIRE(cut.problem.empty());
  REQUIRE(cut.tokens.size() == 10);
  CHECK(cut.tokens[0].value == 6);
  CHECK(cut.tokens[1].text == "ft");
  CHECK(cut.tokens[3].value == 3);
  CHECK(cut.tokens[4].text == "/");
  CHECK(cut.tokens[6].text == "in");
  CHECK(cut.tokens[7].text == "per");
  CHECK(cut.tokens[8].text == "ft");
  CHECK(cut.tokens[8].power == 2);
  CHECK(cut.tokens[9].kind == QuantityToken::end);
}

TEST_CASE("A digit behind a word is its power only when nothing else can be meant") {
  CHECK(cut_quantity("s-1").tokens[0].power == -1);
  CHECK(cut_quantity("m**3").tokens[0].power == 3);
  CHECK(cut_quantity("ft4in").tokens[0].power == 1);
  CHECK(cut_quantity("ft12").tokens[0].power == 1);
  CHECK_FALSE(cut_quantity("ft^x").problem.empty());
}

TEST_CASE("Only whole numbers are marked as whole") {
  CHECK(cut_quantity("12").tokens[0].whole);
  CHECK_FALSE(cut_quantity("12.0").tokens[0].whole);
  CHECK_FALSE(cut_quantity("1e2").tokens[0].whole);
}

TEST_CASE("Typographic marks are read as the plain ones") {
  CHECK(plain_marks("6\u2019 4\u201D") == "6' 4\"");
  CHECK(plain_marks("6\u2032 4\u00BD\u2033") == "6' 4 1/2\"");
  CHECK(plain_marks("4\u20133 5/8") == "4-3 5/8");
  CHECK(plain_marks("6' 4''") == "6' 4\"");
}
