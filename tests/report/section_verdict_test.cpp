#include "catch.hpp"

#include <lowspot/report/sections.hpp>

#include "report/picture.hpp"

using namespace lowspot;
using namespace lowspot::report;

TEST_CASE("the verdict stands first, with the figure of each design") {
  sample::PageMaker maker;
  const std::string html = section("verdict").html(maker.page());
  CHECK(html.find("3-inch is enough") < html.find("48 h"));
  CHECK_THAT(html, ContainsSubstring("6 h") && ContainsSubstring("does not clear within the target") &&
                       ContainsSubstring("\u2713 clears within the target") &&
                       ContainsSubstring("24 h after the rain"));
  results::CheckRecord check;
  check.id = "roots";
  check.name = "Roots of trees";
  check.about = "<oak>";
  check.outcome = results::CheckOutcome::fail;
  maker.comparison.designs[1].checks.push_back(check);
  CHECK_THAT(section("verdict").html(maker.page()),
             ContainsSubstring("1 limit is not kept: Roots of trees (&lt;oak&gt;)"));
  maker.comparison.verdict.sentence = "<script>alert(1)</script>";
  CHECK(section("verdict").html(maker.page()).find("<script>") == std::string::npos);
}
