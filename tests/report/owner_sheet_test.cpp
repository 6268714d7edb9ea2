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
  maker.site.storm.depth = lowspot::site::not_given;
  CHECK_THAT(owner_sheet_html(maker.scene()), ContainsSubstring("once in 10 years"));
  // A depth of its own takes the place of the depth of that period.
  maker.site.storm.depth = 0.05;
  CHECK(owner_sheet_html(maker.scene()).find("once in") == std::string::npos);
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
  CHECK_THAT(page, ContainsSubstring("\u00a0% rain on patio; 20\u00a0% house, &lt;west&gt; downspout; "));
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

TEST_CASE("of many areas the one that misses the target is shown, and the others are counted") {
  sample::SheetMaker maker;
  for (auto& design : maker.comparison.designs) {
    auto dry = design.areas[1];
    dry.standing_hours_after_rain = 1, dry.clear_within_target = true, dry.judged = true;
    design.areas.clear();
    for (int k = 0; k < 8; ++k) {
      dry.name = "place " + std::to_string(k);
      design.areas.push_back(dry);
    }
    design.areas[7].name = "the wet one", design.areas[7].clear_within_target = false;
  }
  const std::string page = owner_sheet_html(maker.scene());
  const std::string table = page.substr(page.find("After the rain a puddle stands"));
  CHECK_THAT(table, ContainsSubstring("the wet one") && ContainsSubstring("and 4 more: see report.html"));
  CHECK(table.find("the wet one") < table.find("place 0"));
}

TEST_CASE("of many options the one that is proposed is shown, and the others are counted") {
  sample::SheetMaker maker;
  while (maker.comparison.designs.size() < 9) {
    maker.comparison.designs.push_back(maker.comparison.designs[1]);
    maker.comparison.designs.back().name = "option " + std::to_string(maker.comparison.designs.size());
  }
  SheetScene scene = maker.scene();
  scene.built = &maker.comparison.designs[8];
  const std::string page = owner_sheet_html(scene);
  const std::string table = page.substr(page.find("What was compared"));
  CHECK_THAT(table.substr(0, table.find("</table>")),
             ContainsSubstring("option 9") && ContainsSubstring(maker.comparison.designs[0].name) &&
                 ContainsSubstring("and 4 more: see report.html") && !ContainsSubstring("option 8"));
}

TEST_CASE("however much is unknown, the owner is asked about wet without rain") {
  sample::SheetMaker maker;
  maker.site.soils.resize(7, maker.site.soils[0]);
  CHECK_THAT(owner_sheet_html(maker.scene()),
             ContainsSubstring("points to a leak or a spring") && ContainsSubstring("A hole test of") &&
                 ContainsSubstring(" more: see the answer of lowspot check"));
}

TEST_CASE("what stands already is not built, though its outlet is where the water goes") {
  sample::SheetMaker maker;
  CHECK_THAT(owner_sheet_html(maker.scene()),
             ContainsSubstring("west leg: ") && ContainsSubstring("leaves at fence outlet (daylight)."));
  maker.site.designs[0].standing = {"west leg", "fence outlet"};
  CHECK_THAT(owner_sheet_html(maker.scene()),
             !ContainsSubstring("west leg: ") && ContainsSubstring("carrier: ") &&
                 ContainsSubstring("leaves at fence outlet (daylight, which is there already)."));
}

TEST_CASE("beds that are soggy beyond the end of the run are said to be so for longer than it") {
  sample::SheetMaker maker;
  auto& bed = maker.comparison.designs[0].beds[0];
  bed.still_soggy = true;
  CHECK_THAT(owner_sheet_html(maker.scene()),
             ContainsSubstring("roots stand soggy, rain included, for over "));
  maker.site.areas[1].plants->root_depth = 12 * 0.0254;
  CHECK_THAT(owner_sheet_html(maker.scene()),
             ContainsSubstring("roots (down to 12 in) stand soggy, rain included, for over "));
  bed.soggy_hours = 0.3;
  CHECK_THAT(owner_sheet_html(maker.scene()), ContainsSubstring("under 1 h, still so at the end now, "));
}

TEST_CASE("options of a yard without areas are judged by its wettest spot, a near miss as one") {
  sample::SheetMaker maker;
  maker.comparison.clear_within = 24 * 3600;
  while (maker.comparison.designs.size() < 3) maker.comparison.designs.push_back(maker.comparison.designs[1]);
  for (auto& design : maker.comparison.designs) {
    design.areas.clear();
    design.standing_hours.assign(maker.comparison.grid.cells(), 24.6F);
  }
  const std::string page = owner_sheet_html(maker.scene());
  REQUIRE(page.find("What was compared") != std::string::npos);
  const std::string table = page.substr(page.find("What was compared"));
  CHECK_THAT(table.substr(0, table.find("</table>")), ContainsSubstring("just over 24 h") &&
                                                          ContainsSubstring("not met") &&
                                                          !ContainsSubstring(">met"));
}

TEST_CASE("upkeep and what is not promised speak of no trench, pipe or outlet that is not there") {
  sample::SheetMaker maker;
  CHECK_THAT(owner_sheet_html(maker.scene()),
             ContainsSubstring("look at the outlet while it runs") && ContainsSubstring("flush the pipe") &&
                 ContainsSubstring("top up the trench") && ContainsSubstring("the trench settles") &&
                 ContainsSubstring("Keep the outlet clear of grass and animals, look at it after storms."));
  CHECK_THAT(owner_sheet_html(maker.nothing_proposed()),
             !ContainsSubstring("look at the outlet") && !ContainsSubstring("flush the pipe") &&
                 !ContainsSubstring("top up the trench") && !ContainsSubstring("the trench settles") &&
                 !ContainsSubstring("shows a scar") && !ContainsSubstring("mulch over the stone") &&
                 ContainsSubstring("how long the yard stayed wet"));
  auto& design = maker.site.designs[0];
  design.runs.clear(), design.fittings.clear(), design.outlets.clear();
  lowspot::site::Regrade swale;
  swale.name = "way", swale.kind = "swale", swale.width = 0.5;
  swale.path = {{12 * sample::foot, 6 * sample::foot, 30.5}, {24 * sample::foot, 2 * sample::foot, 30.45}};
  design.regrades = {swale};
  CHECK_THAT(owner_sheet_html(maker.scene()), !ContainsSubstring("top up the trench") &&
                                                  !ContainsSubstring("flush the pipe") &&
                                                  ContainsSubstring("Mow the swale, clear silt out of it.") &&
                                                  ContainsSubstring("shows a scar for a season."));
}

TEST_CASE("water goes where its outlet sends it; soil and downspouts are built, too") {
  sample::SheetMaker maker;
  auto& design = maker.site.designs[0];
  const SheetScene scene = maker.scene(); // the sheets stay those of the pipes
  design.outlets[0].kind = "dry well";
  CHECK_THAT(owner_sheet_html(scene), ContainsSubstring("The water soaks away at fence outlet (dry well)."));
  design.outlets[0].kind = "pump";
  CHECK_THAT(owner_sheet_html(scene), ContainsSubstring("The water is pumped up from fence outlet (pump)."));
  design.runs.clear(), design.outlets.clear();
  lowspot::site::Amend amend;
  amend.name = "better soil", amend.outline = sample::rectangle(10, 13, 40, 18);
  design.amends = {amend};
  design.downspouts = {{"west spout", "ground"}};
  CHECK_THAT(owner_sheet_html(scene),
             ContainsSubstring("better soil: the soil is improved over 150 ft\u00b2.") &&
                 ContainsSubstring("west spout: let out on the ground."));
}

TEST_CASE("sources that were followed are not denied where nothing stood") {
  sample::SheetMaker maker;
  maker.comparison.designs[0].shares.places.clear();
  CHECK_THAT(owner_sheet_html(maker.scene()), ContainsSubstring("were not followed in this run"));
  sample::add_shares(maker.comparison);
  for (auto& area : maker.comparison.designs[0].areas) area.max_depth = 0;
  CHECK_THAT(owner_sheet_html(maker.scene()),
             !ContainsSubstring("were not followed") && ContainsSubstring("so there is none to trace"));
}

TEST_CASE("the owner reads beside a pit when it is empty again") {
  sample::SheetMaker maker;
  maker.end_in_a_pit("empty 30 h after the rain");
  CHECK_THAT(owner_sheet_html(maker.scene()), ContainsSubstring("(dry well; empty 30 h after the rain)"));
}

TEST_CASE("an option that clears but drowns or parches a bed does not meet the target") {
  sample::SheetMaker maker;
  while (maker.comparison.designs.size() < 3) maker.comparison.designs.push_back(maker.comparison.designs[1]);
  for (auto& design : maker.comparison.designs) {
    for (auto& area : design.areas) area.clear_within_target = true, area.still_standing = false;
    design.beds[0].soggy_hours = 10;
  }
  maker.comparison.soggy_limit = 36 * 3600;
  const auto table = [&] {
    const std::string page = owner_sheet_html(maker.scene());
    const std::string from = page.substr(page.find("What was compared"));
    return from.substr(0, from.find("</table>"));
  };
  CHECK_THAT(table(), !ContainsSubstring("not met"));
  maker.comparison.designs[0].beds[0].soggy_hours = 38;
  CHECK_THAT(table(), ContainsSubstring("not met: a bed too wet"));
}

TEST_CASE("the owner of a dry well looks into it, not at an outlet") {
  sample::SheetMaker maker;
  CHECK_THAT(owner_sheet_html(maker.scene()), ContainsSubstring("look at the outlet while it runs"));
  maker.end_in_a_pit("");
  CHECK_THAT(owner_sheet_html(maker.scene()), ContainsSubstring("look into the dry well") &&
                                                  !ContainsSubstring("look at the outlet while it runs"));
}

TEST_CASE("the owner is told first of an end that may be buried") {
  sample::SheetMaker maker;
  lowspot::results::CheckRecord end;
  end.id = "outlet_free", end.about = "fence outlet",
  end.found = "the pipe ends 183 mm below the ground beside it";
  maker.comparison.designs[1].checks = {end};
  const std::string page = owner_sheet_html(maker.scene());
  const auto wrong = page.find("What could make this wrong");
  REQUIRE(wrong != std::string::npos);
  const auto said =
      page.find("UNKNOWN: whether anything runs out at fence outlet; the pipe ends 183 mm below the ground "
                "beside it. Have the ground beyond it shot");
  REQUIRE(said != std::string::npos);
  CHECK(said > wrong);
}
