#include "catch.hpp"

#include <lowspot/report/owner_sheet.hpp>

#include "report/sample_shares.hpp"
#include "report/sample_sheet.hpp"

using namespace lowspot::report;

TEST_CASE("the owner reads what was found, what is built, what to expect and what it does not do") {
  sample::SheetMaker maker;
  const std::string page = owner_sheet_html(maker.scene());
  for (const char* words : {"3-inch is enough", "long bed", "What is built", "What it does not do", "Upkeep",
                            "UNKNOWN", "one year", "now", "as proposed"})
    CHECK_THAT(page, ContainsSubstring(words));
  // The storm of the sample has no return period, so none is claimed.
  CHECK(page.find("once in") == std::string::npos);
  maker.site.storm.return_period = 10;
  CHECK_THAT(owner_sheet_html(maker.scene()), ContainsSubstring("once in 10 years"));
}

TEST_CASE("the owner is told what the colours are, and reads whole sentences") {
  sample::SheetMaker maker;
  maker.comparison.verdict.sentence = std::string(400, 'a') + ". " + std::string(400, 'b') + ".";
  const std::string page = owner_sheet_html(maker.scene());
  CHECK_THAT(page, ContainsSubstring("Colours: hours that a puddle deeper than 0.25 in stands") &&
                       ContainsSubstring("aa.</p>") && !ContainsSubstring(std::string(20, 'b')));
}

TEST_CASE("sources are set apart although their names hold commas") {
  sample::SheetMaker maker;
  sample::add_shares(maker.comparison);
  const std::string page = owner_sheet_html(maker.scene());
  CHECK_THAT(page, ContainsSubstring(" % rain on patio; 20 % house, &lt;west&gt; downspout; "));
}

TEST_CASE("without a design the owner is told what is, and nothing is sold") {
  sample::SheetMaker maker;
  maker.site.designs.clear();
  const std::string page = owner_sheet_html(maker.nothing_proposed());
  CHECK(page.find("What is built") == std::string::npos);
  CHECK(page.find("as proposed") == std::string::npos);
  CHECK_THAT(page, ContainsSubstring("designs: none proposed"));
}

TEST_CASE("the owner reads the same dry days as the report: those of the dry spell where there is one") {
  sample::SheetMaker maker;
  maker.comparison.season = {30 * 86400.0, 5.5e-8, "July", "after the storm"};
  for (auto& design : maker.comparison.designs) {
    design.season_beds = design.beds;
    design.season_beds[0].days_below_half_available_water = 0;
  }
  auto& proposed = maker.comparison.designs[1].season_beds[0];
  proposed.days_below_half_available_water = 13;
  proposed.lowest_available_fraction = 0.18;
  CHECK_THAT(owner_sheet_html(maker.scene()),
             ContainsSubstring("Short of water in 30 days without rain: never now, 13 days as proposed") &&
                 ContainsSubstring("of what plants can use now, 18 % as proposed."));
}

TEST_CASE("a page with much to say is set in small type, and its hours may break into lines") {
  sample::SheetMaker maker;
  const std::string calm = owner_sheet_html(maker.scene());
  CHECK(calm.find("<div class=\"tight\">") == std::string::npos);
  CHECK_THAT(calm,
             ContainsSubstring("<th scope=\"col\">as proposed</th>")); // not set as figures, which do not
  maker.comparison.plausible.draws = 20;
  maker.comparison.plausible.sentence = std::string(900, 'x');
  CHECK_THAT(owner_sheet_html(maker.scene()), ContainsSubstring("<div class=\"tight\">"));
}

TEST_CASE("a hole test is not asked for where one was done; limits not kept are counted for each option") {
  sample::SheetMaker maker;
  CHECK_THAT(owner_sheet_html(maker.scene()), ContainsSubstring("A hole test of the tight layer narrows"));
  maker.comparison.plausible.draws = 20; // they name the test that tells most
  CHECK_THAT(owner_sheet_html(maker.scene()), !ContainsSubstring("A hole test of the tight layer narrows"));
  maker.comparison.plausible.draws = 0;
  maker.site.soils.resize(1);
  maker.site.soils[0].holes.resize(1);
  CHECK_THAT(owner_sheet_html(maker.scene()), !ContainsSubstring("A hole test of the tight layer narrows"));
  lowspot::results::CheckRecord check;
  check.id = "roots";
  check.outcome = lowspot::results::CheckOutcome::fail;
  while (maker.comparison.designs.size() < 3) maker.comparison.designs.push_back(maker.comparison.designs[1]);
  maker.comparison.designs[1].checks = {check};
  CHECK_THAT(owner_sheet_html(maker.scene()), ContainsSubstring("; limits not kept: 1"));
}
