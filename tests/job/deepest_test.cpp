#include "catch.hpp"
#include "designs.hpp"

#include <lowspot/job/deepest.hpp>

using namespace lowspot;

TEST_CASE("a pit counts as a trench does for those who climb in") {
  const SimpleYard yard = level_yard();
  site::Design design = round_design();
  const job::CutSheet sheet = job::make_cut_sheet(yard.site, design, yard.ground, 3);
  const double trench = job::deepest_dug(sheet, design);
  CHECK(trench > 2 * foot);
  CHECK(job::deepest_pit(design) == 0);
  site::Outlet pit = daylight_outlet("pit", {20 * foot, 5 * foot});
  pit.kind = "dry well";
  pit.well = {1, 4, 5 * foot, 0.4, site::not_given};
  design.outlets.push_back(pit);
  CHECK(job::deepest_dug(sheet, design) == Approx(5 * foot));
  CHECK(job::deepest_pit(design) == Approx(5 * foot));
  design.standing = {"pit"}; // nobody digs what an earlier stage dug
  CHECK(job::deepest_pit(design) == 0);
  CHECK(job::deepest_dug(sheet, design) == trench);
}
