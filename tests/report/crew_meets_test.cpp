#include "catch.hpp"

#include <lowspot/report/crew_meets.hpp>

#include "report/sample_sheet.hpp"

using namespace lowspot;
using namespace lowspot::report;

TEST_CASE("the crew is told to shoot the ground beyond an end that may be buried, before it digs to it") {
  sample::SheetMaker maker;
  results::CheckRecord end, lot;
  end.id = "outlet_free", end.name = "Outlet in open air", end.about = "fence outlet";
  end.found = "the pipe ends 7.8 in below the ground beside it", end.missing = "how the ground lies";
  lot.id = "lot_line", lot.about = "fence outlet", lot.found = "0 in from the limit";
  maker.comparison.designs[1].checks = {lot, end};
  const std::string said = on_the_way(maker.scene());
  CHECK_THAT(said,
             ContainsSubstring("fence outlet: the pipe ends 7.8 in below the ground beside it. Shoot the "
                               "ground beyond before digging") &&
                 !ContainsSubstring("from the limit"));
  CHECK(said.find("Shoot the ground") < said.find("passes through"));
  maker.comparison.designs[1].checks[1].outcome = results::CheckOutcome::pass; // it comes out of the ground
  CHECK_THAT(on_the_way(maker.scene()), !ContainsSubstring("Shoot the ground"));
}
