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

TEST_CASE("no utility in the file is not known to be none") {
  const auto record = the(utilities(level_yard()), "utility_crossing");
  CHECK(outcome(record) == "unknown");
  CHECK_THAT(record.missing, ContainsSubstring("811"));
}

TEST_CASE("a crossing: its station, the clear height and the strip to dig by hand") {
  SimpleYard yard = level_yard();
  // At x = 60 ft the invert is 98 ft, the top of the pipe 98 + 4.5 in, its underside 98 - 0.5 in.
  yard.site.utilities = {{"gas", {{60 * foot, 0}, {60 * foot, 40 * foot}}, 6 * inch, 1 * inch, 0}};
  auto record = the(utilities(yard), "utility_crossing", "main");
  CHECK(record.found_value == Approx(24 * inch - 7 * inch - 4.5 * inch).margin(0.002)); // to its underside
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
  yard.site.utilities = {{"cable", {{20 * foot, 12 * foot}, {40 * foot, 12 * foot}}, 6 * inch, 1 * inch, 0}};
  const auto record = the(utilities(yard), "utility_beside", "main");
  CHECK(record.found_value == Approx(1.5 * foot));
  CHECK(outcome(record) == "fail");
  // Two feet from the side, 2.5 from the middle: a foot and a half beyond each end of the cable, since
  // 1.5, 2 and 2.5 are the sides of a right triangle. Stations run from the outlet at x = 110 ft.
  CHECK_THAT(record.found, ContainsSubstring("from 68.5 ft to 91.5 ft up from the outlet"));
  yard.site.utilities[0].path = {{20 * foot, 30 * foot}, {40 * foot, 30 * foot}};
  CHECK(outcome(the(utilities(yard), "utility_beside")) == "pass");
}

TEST_CASE("under a line the gap goes to its underside; where its size is not known it may depend on it") {
  SimpleYard yard = level_yard();
  // At x = 60 ft the top of the pipe lies 19.5 in under the ground.
  yard.site.utilities = {{"sewer", {{60 * foot, 0}, {60 * foot, 40 * foot}}, 6.5 * inch, 4 * inch, 0}};
  const auto found = [&] { return the(utilities(yard), "utility_crossing", "main"); };
  CHECK(found().found_value == Approx(9 * inch).margin(0.002)); // 13 in to its top
  CHECK(outcome(found()) == "fail");
  yard.site.utilities[0].size = site::not_given;
  CHECK(outcome(found()) == "unknown");
  CHECK_THAT(found().missing, ContainsSubstring("up to 1 in would do") && ContainsSubstring("size"));
  yard.site.utilities[0].depth = 0.5 * inch; // 19 in: 12.4 in are left under 6 in sewer pipe
  CHECK(outcome(found()) == "pass");
  CHECK(found().found_value == Approx((19 - 6.625) * inch).margin(0.002));
  CHECK_THAT(found().found,
             ContainsSubstring("no more than 6.62 in") || ContainsSubstring("no more than 6.63 in"));
  yard.site.utilities[0].depth = 8 * inch; // not even a wire is clear enough
  CHECK(outcome(found()) == "fail");
  yard.site.utilities[0].depth = 40 * inch; // the drain passes over it: only its top counts
  CHECK(outcome(found()) == "pass");
  CHECK(found().found_value == Approx(15.5 * inch).margin(0.002));
}

TEST_CASE("a trench that crosses a line and then runs beside it is dug by hand there as well") {
  SimpleYard yard = level_yard();
  site::Design design = round_design();
  design.runs[0].path = {{50 * foot, 2 * foot}, {80 * foot, 2 * foot}, {80 * foot, 35 * foot}};
  design.outlets[0].at = {80 * foot, 35 * foot};
  yard.site.utilities = {{"gas", {{79 * foot, 0}, {79 * foot, 40 * foot}}, 6 * inch, 1 * inch, 0}};
  std::vector<results::CheckRecord> list;
  const auto look = [&] {
    list.clear();
    check_utilities(yard.site, lay_out(yard.site, yard.ground, design), list);
  };
  look();
  CHECK_THAT(the(list, "utility_crossing", "main").found, ContainsSubstring("34 ft up from the outlet"));
  const auto beside = the(list, "utility_beside", "main");
  CHECK(outcome(beside) == "fail");
  CHECK(beside.found_value == Approx(0.5 * foot));
  CHECK_THAT(beside.found, ContainsSubstring("from 0 in to 31"));
  // Straight on, the strip at the crossing is all.
  design.runs[0].path = {{50 * foot, 2 * foot}, {110 * foot, 2 * foot}};
  design.outlets[0].at = {110 * foot, 2 * foot};
  look();
  REQUIRE(list.size() == 1);
  CHECK(list[0].id == "utility_crossing");
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
  const double clear = design.outlets[0].at.x + 1.5 * foot;
  design.outlets[0].at.x = clear;
  yard.site.utilities[0].path = {{52.5 * foot + 1e-12, 0}, {52.5 * foot + 1e-12, 40 * foot}};
  CHECK_THAT(found().found, ContainsSubstring("0 in: it touches it"));
  yard.site.utilities[0].path = gas.path;
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

TEST_CASE("a line lies under the ground of today, not under that of the design") {
  SimpleYard yard = level_yard();
  // The underside of the pipe at 98.7 ft, of ground that is lowered from 100 ft to 99 ft.
  const double invert = 98.7 + 0.5 / 12;
  site::Design design = round_design(invert + 0.05, invert - 0.05);
  design.regrades = {levelled_to(yard, 99)};
  yard.site.utilities = {{"gas", {{60 * foot, 0}, {60 * foot, 40 * foot}}, 18 * inch, 1 * inch, 0}};
  std::vector<results::CheckRecord> list;
  check_utilities(yard.site, lay_out(yard.site, yard.ground, design), list);
  const auto record = the(list, "utility_crossing", "main");
  CHECK(record.found_value == Approx(2.4 * inch).margin(0.002)); // its top at 98.5 ft
  CHECK(outcome(record) == "fail");
}

TEST_CASE("the sides of a swale, a channel's width, boxes and their pipes count as digging beside a line") {
  SimpleYard yard = level_yard();
  yard.site.utilities = {{"gas", {{0, 23 * foot}, {120 * foot, 23 * foot}}, 18 * inch, 1 * inch, 0}};
  const auto found = [&](const site::Design& design) {
    std::vector<results::CheckRecord> list;
    check_utilities(yard.site, lay_out(yard.site, yard.ground, design), list);
    REQUIRE(list.size() == 1);
    return list[0];
  };
  site::Design design;
  site::Regrade swale;
  swale.name = "swale", swale.kind = "swale", swale.width = 8 * foot;
  swale.path = {{10 * foot, 20 * foot, 99.5 * foot}, {110 * foot, 20 * foot, 99.5 * foot}};
  design.regrades = {swale};
  CHECK(outcome(found(design)) == "fail"); // in its bed
  CHECK_THAT(found(design).found, ContainsSubstring("over it"));
  design.regrades[0].width = 1 * foot; // half a foot of bed and a foot and a half of side
  CHECK(outcome(found(design)) == "fail");
  CHECK(found(design).found_value == Approx(1 * foot).margin(0.06));
  design.regrades[0].path[0].z = design.regrades[0].path[1].z = 99.9 * foot;
  CHECK(outcome(found(design)) == "pass"); // 0.5 ft of bed, 0.3 ft of side: 2.2 ft are left

  design = round_design(); // its trench at y = 10 ft
  site::Inlet box;
  box.name = "box", box.at = {50 * foot, 15 * foot}, box.to = "main";
  box.grate.width = box.grate.length = 1 * foot, box.pipe = 4 * inch;
  design.inlets = {box};
  CHECK(outcome(found(design)) == "pass");
  design.inlets[0].at.y = 21 * foot; // a foot and a half from its side, which is nearer than its pipe
  CHECK(found(design).found_value == Approx(1.5 * foot));
  CHECK(found(design).about == "box");
  design.inlets[0].at.y = 30 * foot; // its pipe crosses the line
  CHECK(found(design).found_value == 0);

  design.inlets.clear();
  site::Channel channel;
  channel.name = "channel", channel.width = 2 * foot, channel.depth = 0.5 * foot;
  channel.path = {{40 * foot, 20.5 * foot}, {50 * foot, 20.5 * foot}};
  channel.to = "fence", channel.grate.width = 1.9 * foot;
  channel.capacity = 0.01;
  design.channels = {channel};
  CHECK(found(design).found_value == Approx(1.5 * foot)); // from its side
}

TEST_CASE("a line just as far from the trench as the strip to dig by hand is wide is not beside it") {
  for (int inches = 12; inches <= 36; ++inches) {
    INFO(inches << " in");
    const auto beside = [&](double gap) {
      SimpleYard yard = level_yard();
      set_limit(yard, "hand_dig", inches * inch);
      site::Utility line;
      line.name = "gas"; // the side of the trench lies at y = 10.5 ft
      line.path = {{0, 10.5 * foot + gap}, {120 * foot, 10.5 * foot + gap}};
      yard.site.utilities = {line};
      std::vector<results::CheckRecord> list;
      check_utilities(yard.site, lay_out(yard.site, yard.ground, round_design()), list);
      return std::any_of(list.begin(), list.end(),
                         [](const auto& one) { return one.name == "Digging beside gas"; });
    };
    CHECK_FALSE(beside(inches * inch));
    CHECK(beside((inches - 0.01) * inch));
  }
}
