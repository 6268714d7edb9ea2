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
  drain.edges = {{"south", 0.001, 0.0005, 6.2, 4.1}};
  drain.upkeep = {"rake the stone"};
  results::OptionRecord nothing;
  nothing.name = maker.comparison.designs.front().name;
  nothing.still_standing = true;
  nothing.standing_hours = 80;
  nothing.not_kept = {"long bed stands <80>"};
  maker.comparison.options = {drain, nothing};
  const std::string html = report::section("options").html(maker.page());
  CHECK(html.find("\u2713 yes") < html.find("long bed stands &lt;80&gt;"));
  CHECK_THAT(html, ContainsSubstring("rake the stone") && ContainsSubstring("2.5") &&
                       ContainsSubstring("south") && !ContainsSubstring("cost,"));
  maker.comparison.options[0].cost = 1240;
  CHECK_THAT(report::section("options").html(maker.page()),
             ContainsSubstring("cost, $") && ContainsSubstring("1240"));
}
