#include <lowspot/checks/utilities.hpp>

#include "round_yard.hpp"

using namespace lowspot;
using namespace lowspot::checks;

namespace {
std::vector<results::CheckRecord> utilities(const SimpleYard& yard) {
  std::vector<results::CheckRecord> list;
  check_utilities(yard.site, lay_out(yard.site, yard.ground, round_design()), list);
  return list;
}
} // namespace

TEST_CASE("where lines cross, and at which angle") {
  const auto found = crossings({{0, 0}, {10, 0}, {10, 10}}, {{4, -1}, {4, 1}, {12, 9}});
  REQUIRE(found.size() == 2);
  CHECK(found[0].distance == Approx(4));
  CHECK(found[0].angle == Approx(M_PI / 2));
  CHECK(found[1].distance == Approx(17));
  CHECK(found[1].angle == Approx(M_PI / 4));
  CHECK(crossings({{0, 0}, {10, 0}}, {{0, 1}, {10, 1}}).empty());
  CHECK(crossings({{0, 0}, {5, 0}, {10, 0}}, {{5, -1}, {5, 1}}).size() == 1); // at a bend: once
}

TEST_CASE("no utility in the file is not known to be none") {
  const auto record = the(utilities(level_yard()), "utility_crossing");
  CHECK(outcome(record) == "unknown");
  CHECK_THAT(record.missing, ContainsSubstring("811"));
}

TEST_CASE("a crossing: its station, the clear height and the strip to dig by hand") {
  SimpleYard yard = level_yard();
  // At x = 60 ft the invert is 98 ft, the top of the pipe 98 + 4.5 in, its underside 98 - 0.5 in.
  yard.site.utilities = {{"gas", {{60 * foot, 0}, {60 * foot, 40 * foot}}, 6 * inch, 0}};
  auto record = the(utilities(yard), "utility_crossing", "main");
  CHECK(record.found_value == Approx(24 * inch - 6 * inch - 4.5 * inch).margin(0.002));
  CHECK(outcome(record) == "pass");
  CHECK_THAT(record.found,
             ContainsSubstring("50 ft up from the outlet") && ContainsSubstring("inside the trench"));
  // 24 in on either side of the line.
  CHECK_THAT(record.found, ContainsSubstring("from 48 ft to 52 ft"));
  yard.site.utilities[0].depth = 22 * inch; // through the pipe
  record = the(utilities(yard), "utility_crossing", "main");
  CHECK(record.found_value == 0);
  CHECK(outcome(record) == "fail");
  yard.site.utilities[0].depth = 40 * inch; // below: 40 - 24.5
  record = the(utilities(yard), "utility_crossing", "main");
  CHECK(record.found_value == Approx(15.5 * inch).margin(0.002));
  CHECK(outcome(record) == "pass");
  yard.site.utilities[0].depth = site::not_given;
  CHECK(outcome(the(utilities(yard), "utility_crossing", "main")) == "unknown");
}

TEST_CASE("a line beside the trench") {
  SimpleYard yard = level_yard();
  yard.site.utilities = {{"cable", {{20 * foot, 12 * foot}, {40 * foot, 12 * foot}}, 6 * inch, 0}};
  const auto record = the(utilities(yard), "utility_beside", "main");
  CHECK(record.found_value == Approx(1.5 * foot));
  CHECK(outcome(record) == "fail");
  yard.site.utilities[0].path = {{20 * foot, 30 * foot}, {40 * foot, 30 * foot}};
  CHECK(outcome(the(utilities(yard), "utility_beside")) == "pass");
}

TEST_CASE("what is dug without a trench is held against utilities as well, and without any it is unknown") {
  SimpleYard yard = level_yard();
  site::Design design;
  site::Outlet pit;
  pit.name = "well";
  pit.kind = "dry well";
  pit.at = {50 * foot, 20 * foot};
  pit.well = {M_PI * foot * foot, 2 * M_PI * foot, 4 * foot, 1, 1e-6}; // 24 in wide
  design.outlets = {pit};
  const auto found = [&] {
    std::vector<results::CheckRecord> list;
    check_utilities(yard.site, lay_out(yard.site, yard.ground, design), list);
    REQUIRE(list.size() == 1);
    return list[0];
  };
  CHECK(outcome(found()) == "unknown"); // no line is in the file: call before you dig
  site::Utility gas;
  gas.name = "gas";
  gas.path = {{52.5 * foot, 0}, {52.5 * foot, 40 * foot}};
  yard.site.utilities = {gas};
  CHECK(outcome(found()) == "fail"); // 18 in from the side of the pit
  CHECK(found().found_value == Approx(1.5 * foot));
  CHECK(found().about == "well");
  design.outlets[0].at.x = 45 * foot;
  CHECK(outcome(found()) == "pass");
  site::Basin garden;
  garden.name = "garden";
  garden.depth = 0.5 * foot;
  garden.outline = {
      {50 * foot, 5 * foot}, {60 * foot, 5 * foot}, {60 * foot, 15 * foot}, {50 * foot, 15 * foot}};
  design = {};
  design.basins = {garden};
  CHECK(outcome(found()) == "fail"); // right over it
  CHECK_THAT(found().found, ContainsSubstring("over it"));
}
