#include "catch.hpp"

#include <lowspot/report/permit_flows.hpp>

#include "report/sample_sheet.hpp"

using namespace lowspot;
using namespace lowspot::report;

TEST_CASE("a side is summed with its outlets, and a check that fails there is named") {
  sample::SheetMaker maker;
  const site::Outlet& outlet = maker.site.designs[0].outlets[0];
  results::DesignRecord& built = maker.comparison.designs[1];
  built.outlets = {{outlet.name, 1e-3, 6.0}};
  built.ledger.left_by_drains = 6;
  const std::string page = permit_flows(maker.scene());
  CHECK_THAT(page, ContainsSubstring("with its outlets"));
  // What stays in the yard is summed where it leaves.
  built.ledger.left_by_drains = 0;
  const std::string inside = permit_flows(maker.scene());
  CHECK_THAT(inside, !ContainsSubstring("with its outlets") && !ContainsSubstring("outlet: fence outlet") &&
                         ContainsSubstring("fence outlet ends in the yard: its 1590 gal cross no lot line"));
  CHECK(page.find("Check FAILS") == std::string::npos);
  CHECK(failed_sides(maker.scene()) == 0);
  results::CheckRecord check;
  check.id = "neighbour_increase";
  check.name = "Water sent over the south side";
  check.outcome = results::CheckOutcome::fail;
  check.found = "in all 1750 gal before, 2070 gal after";
  built.checks = {check};
  CHECK_THAT(permit_flows(maker.scene()),
             ContainsSubstring("Check FAILS: Water sent over the south side: in all 1750 gal before"));
  CHECK(failed_sides(maker.scene()) == 1);
  CHECK(failed_sides(maker.nothing_proposed()) == 0);
}

TEST_CASE("a line that gets more is told of however many lines there are, those with the most water first") {
  sample::SheetMaker maker;
  for (results::DesignRecord& design : maker.comparison.designs) {
    design.lines.clear();
    for (int k = 0; k < 12; ++k) design.lines.push_back({"line " + std::to_string(k), 1e-3, 2.0});
  }
  maker.comparison.designs[1].lines[11].volume = 50;
  maker.comparison.designs[1].lines[10].volume = 30;
  const std::string page = permit_flows(maker.scene());
  CHECK_THAT(page, ContainsSubstring("across line 11 gets ") && ContainsSubstring("across line 10 gets "));
  CHECK(page.find("across line 11 gets ") < page.find("across line 10 gets "));
  CHECK_THAT(page, ContainsSubstring(">across line 11<") && ContainsSubstring("more: see report.html"));
  // A check that fails is never what the list has no room for.
  for (int k = 0; k < 10; ++k) maker.comparison.designs[1].lines[static_cast<std::size_t>(k)].volume = 40;
  results::CheckRecord check;
  check.id = "neighbour_increase", check.name = "Water sent over the south side";
  check.outcome = results::CheckOutcome::fail, check.found = "more";
  maker.comparison.designs[1].checks = {check};
  CHECK_THAT(permit_flows(maker.scene()), ContainsSubstring("Check FAILS: Water sent over the south side"));
}

TEST_CASE("outlets that the table has no room for are counted, and those with the most water are shown") {
  sample::SheetMaker maker;
  const SheetScene scene = maker.scene(); // the sheets stay those of one outlet
  auto& outlets = maker.site.designs[0].outlets;
  auto& flows = maker.comparison.designs[1].outlets;
  flows = {{outlets[0].name, 1e-3, 1.0}};
  while (outlets.size() < 6) {
    outlets.push_back(outlets[0]);
    outlets.back().name = "end " + std::to_string(outlets.size());
    flows.push_back({outlets.back().name, 1e-3, static_cast<double>(outlets.size())});
  }
  maker.comparison.designs[1].ledger.left_by_drains = 1 + 2 + 3 + 4 + 5 + 6;
  CHECK_THAT(permit_flows(scene), ContainsSubstring("outlet: end 6") &&
                                      ContainsSubstring("and 4 more: see report.html") &&
                                      !ContainsSubstring("outlet: end 4"));
}

TEST_CASE("only water that crosses a lot line is listed as crossing one") {
  sample::SheetMaker maker;
  const SheetScene scene = maker.scene(); // the sheets stay those of one outlet
  auto& outlets = maker.site.designs[0].outlets;
  results::DesignRecord& built = maker.comparison.designs[1];
  const auto add = [&](const char* name, const char* kind, double x, double y) {
    outlets.push_back(outlets[0]);
    outlets.back().name = name, outlets.back().kind = kind;
    outlets.back().at = {x * sample::foot, y * sample::foot};
  };
  add("pit", "dry well", 40, 1), add("lid", "pop-up", 30, 20), add("sump", "pump", 30, 1);
  outlets.back().discharge = Point{30 * sample::foot, 10 * sample::foot};
  built.outlets = {{outlets[0].name, 1e-3, 6.0}, {"pit", 1e-3, 2.0}, {"lid", 1e-3, 3.0}, {"sump", 1e-3, 1.0}};
  built.ledger.left_by_drains = 6;
  const std::string page = permit_flows(scene);
  CHECK_THAT(page, ContainsSubstring("outlet: fence outlet") && !ContainsSubstring("outlet: pit") &&
                       !ContainsSubstring("outlet: lid") && !ContainsSubstring("outlet: sump") &&
                       ContainsSubstring("pit lets 528 gal into the ground, over no lot line.") &&
                       ContainsSubstring("lid ends in the yard: its 793 gal") &&
                       ContainsSubstring("sump ends in the yard: its 264 gal") &&
                       !ContainsSubstring("All outlets together"));
  outlets.back().discharge.reset(); // outside the yard
  built.ledger.left_by_drains = 7;
  CHECK_THAT(permit_flows(scene),
             ContainsSubstring("outlet: sump") && ContainsSubstring("All outlets together"));
}

TEST_CASE("volumes over an edge are not told to a thousandth of a gallon") {
  sample::SheetMaker maker;
  constexpr double gallon = 3.785411784e-3;
  auto& edges = maker.comparison.designs[0].edges;
  REQUIRE(edges.size() > 0);
  for (const auto& [volume, said] :
       {std::pair{0.0384, ">&lt;0.1<"}, std::pair{0.188, ">0.2<"}, std::pair{7.24, ">7.2<"},
        std::pair{57.53, ">57.5<"}, std::pair{574.0, ">574<"}}) {
    edges[0].volume = volume * gallon * (1 + 1e-9);
    CAPTURE(volume);
    CHECK_THAT(permit_flows(maker.scene()), ContainsSubstring(said));
  }
}
