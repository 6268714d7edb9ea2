#include "catch.hpp"

#include <lowspot/report/sections.hpp>

#include "report/picture.hpp"

using namespace lowspot;

TEST_CASE("options in their order, with what leaves and what each asks for") {
  sample::PageMaker maker;
  CHECK(report::section("options").html(maker.page()).empty());
  results::OptionRecord drain;
  drain.name = "drain";
  drain.works = true;
  drain.standing_hours = 6;
  drain.dig_volume = 1.9;
  drain.upkeep = {"rake the stone"};
  results::OptionRecord nothing;
  nothing.name = maker.comparison.designs.front().name;
  nothing.still_standing = true;
  nothing.standing_hours = 80;
  nothing.not_kept = {"long bed stands <80>"};
  drain.name = maker.comparison.designs[1].name;
  maker.comparison.options = {drain, nothing};
  maker.comparison.options[1].still_soggy = true; // for no hour that could be counted
  const std::string html = report::section("options").html(maker.page());
  CHECK_THAT(html, ContainsSubstring("ground soggy after rain") && !ContainsSubstring("roots soggy in all"));
  maker.comparison.options[0].beds = 1;
  CHECK_THAT(report::section("options").html(maker.page()), ContainsSubstring(">roots soggy in all<"));
  maker.comparison.options[0].bed_soggy_hours = 126;
  maker.comparison.designs[1].beds.at(0).soggy_hours = 126;
  maker.comparison.designs[1].beds.at(0).still_soggy = true; // the run was too short to see the end of it
  CHECK_THAT(report::section("options").html(maker.page()), ContainsSubstring(">over 5 days<"));
  maker.comparison.options[0].beds = 0;
  CHECK_THAT(html, ContainsSubstring("over 3 days") && ContainsSubstring("still soggy at the end") &&
                       !ContainsSubstring("over none"));
  CHECK(html.find("\u2713 yes") < html.find("long bed stands &lt;80&gt;"));
  CHECK_THAT(html, ContainsSubstring("rake the stone") && ContainsSubstring("2.5") &&
                       ContainsSubstring("south") && !ContainsSubstring("cost,"));
  results::CheckRecord check;
  check.id = "roots";
  check.name = "Roots of trees";
  check.about = "oak";
  check.outcome = results::CheckOutcome::fail;
  maker.comparison.designs[1].checks.push_back(check);
  CHECK_THAT(report::section("options").html(maker.page()),
             ContainsSubstring("\u2713 yes; limits not kept: Roots of trees (oak)"));
  CHECK_THAT(report::section("options").html(maker.page()),
             ContainsSubstring("then what takes less digging"));
  maker.comparison.options[0].cost = 1240.4;
  CHECK_THAT(
      report::section("options").html(maker.page()),
      ContainsSubstring("cost, $") && ContainsSubstring(">1240<") &&
          ContainsSubstring("then what takes less digging")); // the other has no price: it is not by cost
  for (auto& option : maker.comparison.options) option.cost = 90.07;
  CHECK_THAT(report::section("options").html(maker.page()),
             ContainsSubstring("then the cheaper") && ContainsSubstring(">90.07<"));
}
TEST_CASE("what leaves over a side holds the water of the outlets there") {
  sample::PageMaker maker;
  results::OptionRecord drain, nothing;
  drain.name = maker.comparison.designs[1].name;
  nothing.name = maker.comparison.designs[0].name;
  maker.comparison.options = {drain, nothing};
  const double gallon = 0.00378541;
  for (auto& design : maker.comparison.designs) design.edges = {{"south", 0, 1750 * gallon}};
  maker.comparison.designs[1].edges[0].volume = 450 * gallon;
  maker.comparison.designs[1].outlets = {{maker.site.designs[0].outlets[0].name, 1e-3, 1620 * gallon}};
  maker.comparison.designs[1].ledger.left_by_drains = 1620 * gallon;
  maker.site.designs[0].outlets[0].at = {10, 0};
  const std::string html = report::section("options").html(maker.page());
  for (const char* words :
       {"over the edge", "by outlets there", "together", ">450<", ">1620<", ">2070<", ">1750<"})
    CHECK_THAT(html, ContainsSubstring(words));
}

TEST_CASE("an option's near miss is told from the target, and one item is not items") {
  sample::PageMaker maker;
  maker.comparison.clear_within = 24 * 3600;
  results::OptionRecord drain, nothing;
  drain.name = maker.comparison.designs[1].name;
  nothing.name = maker.comparison.designs[0].name;
  drain.standing_hours = 24.6, drain.cost = 1000, drain.without_price = 1;
  maker.comparison.options = {drain, nothing};
  CHECK_THAT(report::section("options").html(maker.page()),
             ContainsSubstring("just over 24 h") && ContainsSubstring("(1 item unpriced)"));
}
