#include <lowspot/checks/check_design.hpp>

#include <algorithm>

#include <lowspot/base/error.hpp>

#include "round_yard.hpp"

using namespace lowspot;
using namespace lowspot::checks;

TEST_CASE("the whole list of a design: every item has a limit or says what is missing") {
  SimpleYard yard = level_yard();
  add_house(yard, 30, 25, 60, 35);
  open_side(yard, terrain::Side::south);
  yard.site.trees = {{"oak", {60 * foot, 16 * foot}, 10 * inch, 0}};
  const auto list = check_design(yard.site, yard.ground, round_design());
  for (const char* id : {"house_fall", "overflow", "pipe_cover", "pipe_fall", "trench_depth", "frost",
                         "footing", "soak_from_house", "lot_line_distance", "roots", "utility_crossing"})
    the(list, id);
  for (const results::CheckRecord& record : list) {
    INFO(record.id);
    CHECK_FALSE(record.name.empty());
    CHECK_FALSE(record.found.empty());
    CHECK_FALSE(record.source.empty());
    CHECK((record.outcome == results::CheckOutcome::unknown) == !record.missing.empty());
    CHECK((!record.limit.empty() || !record.missing.empty() || record.id == "frost"));
  }
}

TEST_CASE("what the yard brings with it is told from what the works decide") {
  SimpleYard yard = level_yard();
  add_house(yard, 30, 25, 60, 35);
  CHECK_FALSE(the(check_yard(yard.site, yard.ground), "house_fall").of_works);
  site::Design design = round_design();
  CHECK_FALSE(the(check_design(yard.site, yard.ground, design), "house_fall").of_works);
  CHECK(the(check_design(yard.site, yard.ground, design), "pipe_cover").of_works);
  // Regrading away from the south wall mends it there, and makes it the design's.
  site::Regrade plane;
  plane.name = "slope", plane.kind = "plane";
  plane.outline = {{0, 0}, {120 * foot, 0}, {120 * foot, 25 * foot}, {0, 25 * foot}};
  plane.surface = {{0, 25 * foot, 100 * foot}, {1, 25 * foot, 100 * foot}, {0, 15 * foot, 99.4 * foot}};
  design.regrades = {plane};
  CHECK(the(check_design(yard.site, yard.ground, design), "house_fall").of_works);
}

TEST_CASE("a design that cannot be built is refused") {
  const SimpleYard yard = level_yard();
  CHECK_THROWS_AS(check_design(yard.site, yard.ground, round_design(97, 98)), InputError);
}
