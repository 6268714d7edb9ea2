#include "catch.hpp"

#include <lowspot/report/year_later_page.hpp>

using namespace lowspot;

namespace {
study::YearLater answer(bool inside) {
  study::YearLater found;
  found.design = "<i>drain</i>";
  found.rain_depth = 0.0508;
  found.draws = 20, found.seed = 3;
  found.hours = {{"bed & path", 30, 2, 6, 12, false, inside}};
  found.outlet_share = 0.95;
  found.as_promised = inside;
  found.sentences = {"One.", "Two."};
  if (!inside)
    for (int k = 0; k < 10; ++k)
      found.causes.push_back(
          {"cause " + std::to_string(k), "half", "look <there>", {29.0 - k}, {0}, k % 2 == 0, 0.1 * k});
  return found;
}
std::string page(const study::YearLater& found, const site::Design* built = nullptr) {
  study::YearLaterQuestion question;
  question.design = built;
  question.rain.time = {0, 3600, 7200};
  question.rain.intensity = {1e-5, 0};
  question.stood = {{"bed & path", 30}};
  question.outlet_ran = true;
  site::Site site;
  site.name = "Yard <1>";
  return report::year_later_html(found, question, site, "0.1");
}
} // namespace

TEST_CASE("the page of a year later that was as promised: no causes, nothing to dig, names as typed") {
  const std::string html = page(answer(true));
  CHECK_THAT(html, ContainsSubstring("A year later: Yard &lt;1&gt;") && ContainsSubstring("As promised") &&
                       ContainsSubstring("&lt;i&gt;drain&lt;/i&gt;") && !ContainsSubstring("<i>drain"));
  CHECK_THAT(html, ContainsSubstring("2 in of rain in 1 h") && !ContainsSubstring("Before a spade"));
  CHECK_THAT(page(answer(false)), ContainsSubstring("Before a spade goes in: utilities located"));
  CHECK_THAT(html,
             ContainsSubstring("bed &amp; path stood for") && ContainsSubstring("nothing needs to be dug"));
  CHECK_THAT(html,
             ContainsSubstring("runs in 95") && ContainsSubstring("One.") && ContainsSubstring("seed 3"));
  CHECK_THAT(html, !ContainsSubstring("look here"));
}

TEST_CASE("one that was not: causes with where to look and room to write, the longest list cut") {
  const std::string html = page(answer(false));
  CHECK_THAT(html, ContainsSubstring("Not as promised") && ContainsSubstring("longer") &&
                       ContainsSubstring("cause 0, half") && ContainsSubstring("look &lt;there&gt;") &&
                       !ContainsSubstring("look <there>"));
  CHECK_THAT(html, ContainsSubstring("cause 7") && !ContainsSubstring("cause 8") &&
                       ContainsSubstring("And 2 more"));
}

TEST_CASE("causes stack on a narrow screen, each figure with its heading") {
  const std::string html = page(answer(false)); // what was seen and whether it fits come first
  CHECK(html.find("longer<") < html.find("about 2 hours to about 12 hours"));
  CHECK_THAT(html, ContainsSubstring("class=\"scroll causes\"") &&
                       ContainsSubstring("data-head=\"outlet\"") &&
                       ContainsSubstring(".causes thead{display:none}"));
}

TEST_CASE("an answer from a stopped run says so first") {
  study::YearLater found = answer(true);
  found.stopped = "Stopped by you after 12 of 20 soils.";
  CHECK_THAT(page(found), ContainsSubstring("Stopped by you after 12 of 20 soils. As promised"));
}

TEST_CASE("rain lasts from its first drop, and what the gauge's table leaves in doubt is said") {
  study::YearLaterQuestion question;
  question.rain.time = {0, 3600, 18000};
  question.rain.intensity = {0, 1e-5};
  question.rain.warnings = {"gauge.csv: in <doubt>"};
  const std::string html = report::year_later_html(answer(true), question, {}, "0.1");
  CHECK_THAT(html, ContainsSubstring("2 in of rain in 4 h") || ContainsSubstring("50.8 mm of rain in 4 h"));
  CHECK_THAT(html, ContainsSubstring("gauge.csv: in &lt;doubt&gt;"));
}

TEST_CASE("of several outlets any is told of") {
  site::Design built;
  built.outlets.resize(1);
  CHECK_THAT(page(answer(true), &built), ContainsSubstring(">the outlet<"));
  built.outlets.resize(2);
  CHECK_THAT(page(answer(true), &built), ContainsSubstring(">any outlet<"));
}
