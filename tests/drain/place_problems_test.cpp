#include <lowspot/drain/place_problems.hpp>

#include "catch.hpp"
#include "layouts.hpp"

using namespace lowspot::drain;
using namespace lowspot::drain::testing;

namespace {
std::string first_problem(const Layout& layout) {
  const std::vector<std::string> faults = problems(layout);
  return faults.empty() ? "" : faults.front();
}
} // namespace

TEST_CASE("names are found among fittings, outlets and runs") {
  const Layout layout = trench_and_carrier();
  CHECK(place_index(layout, "tee") == 0);
  CHECK(place_index(layout, "end") == 1);
  CHECK(place_index(layout, "leg") == -1);
  CHECK(run_index(layout, "carrier") == 1);
  CHECK(first_problem(layout) == "");
}

TEST_CASE("boxes, wells, pumps and taps without sense are named") {
  Layout layout = trench_and_carrier();
  layout.fittings[0].mouth = Mouth{100, 1, 0.04, 0, true, {{10, 0}}};
  CHECK_THAT(first_problem(layout), ContainsSubstring("no box under its grate"));
  layout.fittings[0].chamber = {0.09, 99.2, 99.1};
  CHECK_THAT(first_problem(layout), ContainsSubstring("without a height"));
  layout.fittings[0].chamber.top = 100;
  CHECK(first_problem(layout) == "");
  layout.fittings[0].mouth->area = 0;
  CHECK_THAT(first_problem(layout), ContainsSubstring("without a size"));

  Layout well = trench_and_carrier();
  well.outlets[0].kind = OutletKind::dry_well;
  CHECK_THAT(first_problem(well), ContainsSubstring("holds no water"));
  well.outlets[0].chamber = {0.3, 98, 100};
  CHECK_THAT(first_problem(well), ContainsSubstring("overflow"));
  well.outlets[0].mouth = Mouth{100, 1, 0.04, 0, false, {{20, 0}}};
  CHECK(first_problem(well) == "");
  well.outlets[0].kind = OutletKind::pump;
  CHECK_THAT(first_problem(well), ContainsSubstring("start the pump above"));
  well.outlets[0].pump = {1e-3, 98.6, 98.2, 0, 0};
  CHECK(first_problem(well) == "");

  Layout tapped = trench_and_carrier();
  tapped.taps = {{"spout", "nothing", {0, 0}, {100, 1, 0.1, 0, false, {{0, 0}}}}};
  CHECK_THAT(first_problem(tapped), ContainsSubstring("\"nothing\""));
}

TEST_CASE("an inlet that leads back to itself is a loop") {
  Layout layout = trench_and_carrier();
  Fitting inlet;
  inlet.name = "inlet";
  inlet.at = {12, 1};
  inlet.chamber = {0.09, 99.3, 100};
  inlet.mouth = Mouth{100, 1, 0.04, 0, true, {{12, 1}}};
  inlet.link = {"carrier", 99.4, 0.1, 0.005};
  layout.fittings.push_back(inlet);
  CHECK(first_problem(layout) == "");
  layout.fittings[1].link.to = "inlet";
  CHECK_THAT(first_problem(layout), ContainsSubstring("leads to itself"));
}
