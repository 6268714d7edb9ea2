#include "catch.hpp"

#include <lowspot/report/sections.hpp>

#include "report/picture.hpp"
#include "report/sample_plausible.hpp"

using namespace lowspot::report;

TEST_CASE("the band: sentence, in how many soils, shares, tests, and how the quick runs differ") {
  sample::PageMaker maker;
  CHECK(section("plausible").html(maker.page()).empty());
  maker.comparison.plausible = sample::plausible(maker.comparison);
  const std::string html = section("plausible").html(maker.page());
  CHECK_THAT(html, ContainsSubstring("Works in 4 of 5 plausible soils.") && ContainsSubstring("4 of 5") &&
                       ContainsSubstring("fails where the conductivity of the tight layer is below") &&
                       ContainsSubstring("90 %") && ContainsSubstring("clears sooner"));
  CHECK_THAT(html, ContainsSubstring("do this next. Dig a hole.") && ContainsSubstring("over ") &&
                       ContainsSubstring("seed 3") && ContainsSubstring("1.25 times the hours"));
  CHECK_THAT(html, !ContainsSubstring("What was seen"));
  CHECK_THAT(html, ContainsSubstring("4.0 now, 2.0 with it"));
  for (auto& figure : maker.comparison.plausible.figures) figure.open_ended = true;
  CHECK_THAT(section("plausible").html(maker.page()),
             ContainsSubstring("over 4.0 now<") && !ContainsSubstring("2.0 with it</td><td>do this next"));
  maker.comparison.plausible = sample::plausible(maker.comparison);
  const auto with_shares = maker.comparison.plausible;
  for (auto& figure : maker.comparison.plausible.figures) // of a regression with few draws
    for (auto& share : figure.shares) share.share = -0.003;
  CHECK_THAT(section("plausible").html(maker.page()), !ContainsSubstring("-0 %"));
  maker.comparison.plausible = with_shares;
  // No one value parts those soils in which it works from the others: then it does not work in all of them.
  const auto as_drawn = maker.comparison.plausible;
  for (auto& design : maker.comparison.plausible.designs) design.flip = {}, design.count = 1;
  CHECK_THAT(section("plausible").html(maker.page()), ContainsSubstring("at no value of one input alone") &&
                                                          !ContainsSubstring("works in all of them"));
  for (auto& design : maker.comparison.plausible.designs) design.count = maker.comparison.plausible.draws;
  CHECK_THAT(section("plausible").html(maker.page()), ContainsSubstring("works in all of them"));
  maker.comparison.plausible = as_drawn;
  maker.comparison.plausible.figures.reserve(8); // the reference below stays
  auto& open = maker.comparison.plausible.figures[0];
  open.main = 104; // a main run of 4 days and 8 hours
  for (auto& area : maker.comparison.designs[0].areas) area.still_standing = area.name == "long bed";
  CHECK_THAT(section("plausible").html(maker.page()), ContainsSubstring(">over 4 days<"));
  auto dry = open; // the row before it need not be there: "such days" of nothing
  dry.what = "season_days_below_half", dry.unit = "d";
  maker.comparison.plausible.figures.push_back(dry);
  CHECK_THAT(
      section("plausible").html(maker.page()),
      ContainsSubstring("days of the dry spell with less than half of the water plants can use: long bed"));
  maker.comparison.plausible.figures.pop_back();
  open.p90 = 0;
  CHECK_THAT(section("plausible").html(maker.page()),
             ContainsSubstring(">still standing at the end<") && !ContainsSubstring("over 0 h"));
  maker.comparison.plausible.seen = {{"corner <b>", 30, {10, 20, 30, 40, 50}}};
  CHECK_THAT(section("plausible").html(maker.page()),
             ContainsSubstring("What was seen") && ContainsSubstring("corner &lt;b&gt;"));
}
