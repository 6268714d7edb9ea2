#include "catch.hpp"

#include <cmath>

#include <lowspot/report/permit_sheet.hpp>

#include "report/sample_sheet.hpp"

using namespace lowspot;
using namespace lowspot::report;

TEST_CASE("the permit desk reads areas, storm, both sides of each line, the outlet and what is UNKNOWN") {
  sample::SheetMaker maker;
  const std::string page = permit_sheet_html(maker.scene());
  // 24 by 16 ft of patio and 38 by 6 ft of roof on 60 by 40 ft.
  CHECK_THAT(page, ContainsSubstring("612 ft\u00b2 (26 %), unchanged"));
  CHECK_THAT(page, ContainsSubstring("Arrows: the way the ground falls"));
  for (const char* words :
       {"edge: south", "across fence", "outlet: fence outlet", "on the limit of the ground", "UNKNOWN",
        "no random draws", "less than a part in 100 million", "unless sealed", "0.1.0", "west leg",
        "topsoil.depth", "[measured]"})
    CHECK_THAT(page, ContainsSubstring(words));
}

TEST_CASE("a line that gets more water than before is named") {
  sample::SheetMaker maker;
  CHECK(permit_sheet_html(maker.scene()).find("more than now") == std::string::npos);
  maker.comparison.designs[1].edges[0].volume = 2 * maker.comparison.designs[0].edges[0].volume;
  CHECK_THAT(permit_sheet_html(maker.scene()), ContainsSubstring("edge: south gets"));
}

TEST_CASE("the yard as it is has a sheet, too") {
  sample::SheetMaker maker;
  const std::string page = permit_sheet_html(maker.nothing_proposed());
  CHECK_THAT(page, ContainsSubstring("Nothing is proposed"));
  CHECK(page.find("proposed, most") == std::string::npos);
}

TEST_CASE("an outlet lies where the crew digs it") {
  sample::SheetMaker maker;
  const SheetScene scene = maker.scene();
  for (const lowspot::job::CutRun& run : scene.cut->runs)
    if (run.stations.front().note == "fence outlet")
      CHECK_THAT(permit_sheet_html(scene),
                 ContainsSubstring("invert " + elevation_text(run.stations.front().invert, scene.units())));
}

namespace {
// What stands beside "ground disturbed".
std::string disturbed(const std::string& page) {
  const std::string row = page.substr(page.find("ground disturbed"));
  return row.substr(0, row.find("</tr>"));
}
} // namespace

TEST_CASE("the ground that works of an earlier stage disturbed is not disturbed again") {
  sample::SheetMaker maker;
  const SheetScene scene = maker.scene(); // the sheets stay those of the pipes
  auto& design = maker.site.designs[0];
  const std::string pipes = disturbed(permit_sheet_html(scene));
  lowspot::site::Basin basin;
  basin.name = "garden", basin.outline = sample::rectangle(42, 4, 52, 10), basin.depth = 0.1;
  lowspot::site::Amend amend;
  amend.name = "better soil", amend.outline = sample::rectangle(10, 13, 40, 18);
  lowspot::site::Channel channel;
  channel.name = "gutter", channel.path = {{3, 4}, {9, 4}}, channel.width = 0.5, channel.depth = 0.1;
  channel.to = "west leg";
  lowspot::site::Regrade swale;
  swale.name = "way", swale.kind = "swale", swale.width = 0.5, swale.path = {{3, 2, 30.5}, {9, 2, 30.4}};
  design.basins = {basin}, design.amends = {amend}, design.channels = {channel}, design.regrades = {swale};
  CHECK(disturbed(permit_sheet_html(scene)) != pipes);
  design.standing = {"garden", "better soil", "gutter", "way"};
  CHECK(disturbed(permit_sheet_html(scene)) == pipes);
}

TEST_CASE("a pump's water is sent to where its hose ends, and distances are those from there") {
  sample::SheetMaker maker;
  auto& outlet = maker.site.designs[0].outlets[0];
  outlet.kind = "pump";
  outlet.at = {24 * sample::foot, 0};
  outlet.well.plan = 0.2, outlet.well.perimeter = 1.6, outlet.well.depth = 1.2;
  outlet.pump_rate = 1e-3, outlet.pump_on = 0.4, outlet.pump_off = 0.1;
  outlet.discharge = lowspot::Point{30 * sample::foot, 10 * sample::foot};
  CHECK_THAT(
      permit_sheet_html(maker.scene()),
      ContainsSubstring("; its hose ends at [30, 10]; 10 ft from the limit of the ground computed, 24 ft "
                        "from the nearest building."));
  outlet.discharge.reset();
  CHECK_THAT(permit_sheet_html(maker.scene()),
             ContainsSubstring("; its hose ends outside the ground computed."));
}

TEST_CASE("of many pipes the fullest are shown and the others counted; what is lost is asked for always") {
  sample::SheetMaker maker;
  maker.site.soils.resize(9, maker.site.soils[0]);
  const SheetScene scene = maker.scene(); // the sheets stay those of the first two
  auto& runs = maker.site.designs[0].runs;
  auto& drains = maker.comparison.designs[1].drains;
  while (runs.size() < 9) {
    runs.push_back(runs[0]), drains.push_back(drains[0]);
    runs.back().name = drains.back().name = "leg " + std::to_string(runs.size());
    drains.back().peak_flow = 0;
  }
  drains.back().peak_flow = 5 * drains.back().full_flow_capacity;
  REQUIRE(drains.back().peak_flow > 0);
  const std::string page = permit_sheet_html(scene);
  CHECK_THAT(page, ContainsSubstring(">leg 9<") && ContainsSubstring("and 5 more: see report.html") &&
                       !ContainsSubstring(">leg 8<"));
  CHECK_THAT(page, ContainsSubstring("distances to well, septic field, right-of-way") &&
                       ContainsSubstring(" more: see the answer of lowspot check"));
}

TEST_CASE("a storm has the return period of its table only where its depth is that of the table") {
  sample::SheetMaker maker;
  lowspot::site::Storm& storm = maker.site.storm;
  storm.table = "rain.csv";
  storm.return_period = 10;
  storm.depth = lowspot::site::not_given;
  CHECK_THAT(permit_sheet_html(maker.scene()), ContainsSubstring("from rain.csv, return period 10 years"));
  storm.depth = 0.1;
  CHECK_THAT(permit_sheet_html(maker.scene()),
             ContainsSubstring("the depth as stated") && !ContainsSubstring("return period"));
}

TEST_CASE("distances that the site file lets measure are listed, and only the others asked for") {
  sample::SheetMaker maker;
  CHECK_THAT(permit_sheet_html(maker.scene()),
             ContainsSubstring("distances to well, septic field, right-of-way and sidewalk;") &&
                 !ContainsSubstring("<h3>Distances"));
  maker.site.keep_offs.resize(2);
  maker.site.keep_offs[0].kind = "well", maker.site.keep_offs[1].kind = "right of way";
  lowspot::results::CheckRecord well, street;
  well.id = "well_distance", well.name = "Distance from a well", well.about = "old well";
  well.outcome = lowspot::results::CheckOutcome::pass;
  well.found = "62 ft (west leg)", well.limit = "at least 50 ft";
  street = well;
  street.id = "right_of_way_distance", street.name = "Distance from a right of way", street.about = "street";
  street.outcome = lowspot::results::CheckOutcome::fail;
  maker.comparison.designs[1].checks = {well, street};
  const std::string page = permit_sheet_html(maker.scene());
  CHECK_THAT(page,
             ContainsSubstring("distances to septic field, sidewalk;") &&
                 ContainsSubstring("Distance from a well (old well): 62 ft (west leg), limit at least 50 "
                                   "ft: kept.") &&
                 ContainsSubstring(": NOT KEPT."));
  CHECK(page.find(": NOT KEPT.") < page.find(": kept."));
}

TEST_CASE("the permit desk reads when a pit is empty again") {
  sample::SheetMaker maker;
  maker.end_in_a_pit("empty 30 h after the rain");
  const std::string page = permit_sheet_html(maker.scene());
  const std::string sent = page.substr(page.find("Where the water is sent"));
  CHECK_THAT(sent.substr(0, sent.find("</ul>")), ContainsSubstring("; empty 30 h after the rain."));
}

TEST_CASE("a dry well lies as far off as its edge does, not its middle") {
  sample::SheetMaker maker;
  const auto sent = [&] {
    const std::string page = permit_sheet_html(maker.scene());
    const std::string from = page.substr(page.find("Where the water is sent"));
    return from.substr(0, from.find("</ul>"));
  };
  maker.end_in_a_pit("");
  site::Site& site = maker.site;
  site::Outlet& well = site.designs[0].outlets[0];
  const Box box = bounds(site.outline);
  well.at = {0.5 * (box.low.x + box.high.x), box.low.y + 2};
  well.well.plan = M_PI * 0.6 * 0.6; // 1.2 m across
  const std::string limit = " from the limit of the ground computed";
  CHECK_THAT(sent(),
             ContainsSubstring("; its edge " + amount(2 - 0.6, maker.scene().units().length) + limit));
  well.at.y = box.low.y + 0.4; // the pit passes the limit
  CHECK_THAT(sent(), ContainsSubstring("on the limit of the ground computed"));
}

TEST_CASE("checks of the works that lack a figure stand under UNKNOWN, those of the yard itself do not") {
  sample::SheetMaker maker;
  results::CheckRecord end, house;
  end.id = "outlet_free", end.name = "Outlet in open air", end.about = "fence outlet";
  end.missing = "how the ground lies beyond the limit: shoot it";
  house.id = "house_fall", house.name = "Ground falls away", house.missing = "more shots",
  house.of_works = false;
  maker.comparison.designs[1].checks = {end, house};
  CHECK_THAT(permit_sheet_html(maker.scene()),
             ContainsSubstring(
                 "UNKNOWN until measured (see Checks in report.html): Outlet in open air (fence outlet).") &&
                 !ContainsSubstring("Ground falls away"));
}
