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
  // The outlet's own water, wherever it went; what stays in the yard is summed where it leaves.
  built.ledger.left_by_drains = 0;
  const std::string inside = permit_flows(maker.scene());
  CHECK_THAT(inside, !ContainsSubstring("with its outlets") &&
                         ContainsSubstring("<td class=\"n\">1590</td>") &&
                         ContainsSubstring("gives its water to the ground of the yard"));
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
