#include "catch.hpp"
#include "simple_yard.hpp"

#include <numbers>

#include <lowspot/report/work_levels.hpp>

using namespace lowspot;

namespace {

// A plane at 10 m that falls 1 % to the east, 20 m by 10 m, with a drain to the east side.
struct Yard {
  SimpleYard yard = simple_yard(40, 20, 0.5, [](double x, double) { return 10 - 0.01 * x; });
  site::Design design = simple_drain(yard, 0.5);
  std::vector<report::WorkLevel> works() {
    return report::work_levels(yard.site, design, yard.ground,
                               job::make_cut_sheet(yard.site, design, yard.ground, 1.5));
  }
};

site::Well round(double across, double depth) {
  return {std::numbers::pi / 4 * across * across, std::numbers::pi * across, depth};
}

} // namespace

TEST_CASE("a pump's basin is set by lid, bottom, the pipe that arrives, switches and the end of its hose") {
  Yard data;
  site::Outlet& outlet = data.design.outlets[0];
  outlet.kind = "pump";
  outlet.well = round(0.5, 1.5);
  outlet.pump_rate = 0.002;
  outlet.pump_on = 0.4, outlet.pump_off = 0.1;
  outlet.discharge = Point{3, 4};
  const auto works = data.works();
  REQUIRE(works.size() == 1);
  const double ground = terrain::elevation_at(data.yard.ground, outlet.at);
  CHECK(works[0].top == Approx(ground));
  CHECK(works[0].bottom == Approx(ground - 1.5));
  for (const char* words : {"500 mm across", "comes in at invert", "pump 2 L/s", "400 mm over the bottom",
                            "100 mm", "its hose ends at [3, 4]"})
    CHECK_THAT(works[0].text, ContainsSubstring(words));
}

TEST_CASE("a dry well says its size and what it holds") {
  Yard data;
  site::Outlet& outlet = data.design.outlets[0];
  outlet.kind = "dry well";
  outlet.well = round(2, 1.5);
  outlet.well.void_share = 0.4;
  const auto works = data.works();
  REQUIRE(works.size() == 1);
  CHECK(works[0].deep() == Approx(1.5));
  CHECK_THAT(works[0].text, ContainsSubstring("2 m across") && ContainsSubstring("room for 1.88 m³") &&
                                ContainsSubstring("40 %"));
}

TEST_CASE("a pop-up is set by its lid, what opens it and its weep hole") {
  Yard data;
  site::Outlet& outlet = data.design.outlets[0];
  outlet.kind = "pop-up";
  outlet.opening_head = 0.012, outlet.weep = 0.013;
  CHECK_THAT(data.works().at(0).text, ContainsSubstring("flush with the ground") &&
                                          ContainsSubstring("opens under 12 mm of water") &&
                                          ContainsSubstring("weep hole 13 mm across"));
  outlet.lid = 9.9, outlet.weep = 0;
  const auto works = data.works();
  REQUIRE(works.size() == 1);
  CHECK(works[0].kind == "pop-up");
  CHECK(works[0].top == Approx(9.9));
  CHECK(std::isnan(works[0].deep()));
  CHECK_THAT(works[0].text, ContainsSubstring("lid at 9.900 m") && ContainsSubstring("no weep hole"));
}

TEST_CASE("a box at the head of a run has its pipe where the run is laid, not at the depth that it states") {
  Yard data;
  site::Inlet inlet;
  inlet.name = "grate";
  inlet.at = data.design.runs[0].path.front();
  inlet.grate = {0.3, 0.3};
  inlet.depth = 0.2, inlet.sump = 0.1, inlet.pipe = 0.1;
  data.design.inlets = {inlet};
  site::Run& run = data.design.runs[0];
  run.from = "grate";
  run.inverts = {9.5, 9.3}; // as given, 0.2 m under the ground would be 9.7 and more
  const auto works = data.works();
  REQUIRE(works.size() == 1);
  CHECK(works[0].bottom == Approx(9.4));
  CHECK_THAT(works[0].text, ContainsSubstring("pipe leaves at invert 9.500 m"));
}

TEST_CASE("a channel is level below the lowest ground along it, and works that stand are left out") {
  Yard data;
  site::Channel channel;
  channel.name = "gutter";
  channel.path = {{4, 5}, {14, 5}};
  channel.width = 0.1, channel.depth = 0.12;
  channel.capacity = 0.002;
  channel.to = data.design.runs[0].name;
  data.design.channels = {channel};
  const auto works = data.works();
  REQUIRE(works.size() == 1);
  CHECK(works[0].top == Approx(10 - 0.14).margin(1e-3));
  CHECK(works[0].deep() == Approx(0.12));
  CHECK_THAT(works[0].text, ContainsSubstring("[4, 5] to [14, 5]"));
  data.design.standing = {"gutter"};
  CHECK(data.works().empty());
}

TEST_CASE("a rain garden has the level of its overflow and of its bottom, a swale those of its bed") {
  Yard data;
  site::Basin basin;
  basin.name = "garden";
  basin.outline = {{4, 2}, {9, 2}, {9, 7}, {4, 7}};
  basin.depth = 0.2;
  site::Regrade swale;
  swale.name = "way";
  swale.kind = "swale";
  swale.path = {{12, 8, 9.7}, {18, 8, 9.6}};
  swale.width = 0.5;
  data.design.basins = {basin};
  data.design.regrades = {swale};
  const auto works = data.works();
  REQUIRE(works.size() == 2);
  CHECK(works[0].kind == "rain garden");
  CHECK(works[0].top == Approx(10 - 0.01 * 9.25).margin(1e-6)); // the lowest cell beside it
  CHECK(works[0].deep() == Approx(0.2).margin(1e-6));
  CHECK_THAT(works[0].text, ContainsSubstring("25 m\u00b2") && ContainsSubstring("sides 1 to 3"));
  CHECK(works[1].top == Approx(9.7));
  CHECK(works[1].bottom == Approx(9.6));
  // It falls 100 mm, but is dug 220 mm deep where it ends: from 9.82 to 9.6.
  CHECK(works[1].deep() == Approx(0.22).margin(0.006));
}

TEST_CASE("a berm is not dug; ground is cut from what the works before it left, those that stand included") {
  Yard data;
  site::Regrade berm, plane, swale;
  berm.name = "bank", berm.kind = "berm", berm.width = 0.5;
  berm.path = {{12, 2, 10.2}, {18, 2, 10.2}};
  plane.name = "lowered", plane.kind = "plane";
  plane.outline = {{2, 6}, {18, 6}, {18, 10}, {2, 10}};
  plane.surface = {{2, 6, 9.7}, {18, 6, 9.7}, {18, 10, 9.7}};
  swale.name = "way", swale.kind = "swale", swale.width = 0.5;
  swale.path = {{4, 8, 9.6}, {16, 8, 9.55}};
  data.design.regrades = {berm, plane, swale};
  const auto works = data.works();
  REQUIRE(works.size() == 3);
  CHECK(std::isnan(works[0].deep()));
  CHECK(works[0].top == Approx(10.2));
  CHECK(works[1].deep() == Approx(10 - 0.0225 - 9.7).margin(0.006)); // at its west side
  CHECK(works[2].deep() == Approx(0.15).margin(0.006));              // below the plane, not below the yard
  data.design.standing = {"bank", "lowered"};
  const auto second = data.works();
  REQUIRE(second.size() == 1);
  CHECK(second[0].deep() == Approx(works[2].deep()));
}

TEST_CASE("a rain garden whose banks meet early holds what they leave") {
  Yard data;
  site::Basin basin;
  basin.name = "garden";
  basin.outline = {{4, 2}, {9, 2}, {9, 4}, {4, 4}};
  basin.depth = 0.6; // 1 m from the middle to the rim, at 1 to 3
  data.design.basins = {basin};
  const auto works = data.works();
  REQUIRE(works.size() == 1);
  CHECK(works[0].deep() < 0.4);
  CHECK_THAT(works[0].text, !ContainsSubstring("600 mm deep") && ContainsSubstring("water stands up to "));
  data.design.basins[0].depth = 0.1;
  CHECK_THAT(data.works()[0].text, ContainsSubstring("water stands up to 100 mm deep"));
}

TEST_CASE("improved soil and downspouts are works, too; what an earlier stage changed is not changed again") {
  Yard data;
  site::Building house;
  site::Downspout spout;
  spout.name = "north spout", spout.at = {3, 4};
  house.downspouts = {spout};
  data.yard.site.buildings = {house};
  site::Amend amend;
  amend.name = "bed", amend.outline = {{4, 2}, {9, 2}, {9, 4}, {4, 4}};
  amend.conductivity_factor = 3, amend.porosity_added = 0.05, amend.depth_added = 0.15;
  data.design.amends = {amend};
  data.design.downspouts = {{"north spout", "ground"}, {"south spout", data.design.runs[0].name}};
  auto works = data.works();
  REQUIRE(works.size() == 3);
  CHECK(works[0].kind == "improved soil");
  CHECK(std::isnan(works[0].deep()));
  CHECK_THAT(works[0].text, ContainsSubstring("10 m\u00b2 between [4, 2] and [9, 4]") &&
                                ContainsSubstring("3 times as much water") &&
                                ContainsSubstring("5 % more pores") && ContainsSubstring("150 mm deep"));
  CHECK(works[1].text == "at [3, 4]: let out on the ground at its foot");
  CHECK(works[2].text == "led into " + data.design.runs[0].name);
  site::Design first;
  first.name = "first";
  first.downspouts = {{"north spout", "ground"}};
  data.yard.site.designs = {first};
  data.design.after = "first", data.design.standing = {"bed"};
  works = data.works();
  REQUIRE(works.size() == 1);
  CHECK(works[0].name == "south spout");
}

TEST_CASE("a work that is named for its kind says it once") {
  CHECK(report::named_with_kind("rain garden", "rain garden") == "rain garden");
  CHECK(report::named_with_kind("by the oak", "rain garden") == "by the oak (rain garden)");
}

TEST_CASE("a rain garden that reaches an open edge of the yard runs over there") {
  Yard data;
  // 10 mm and more lower in the middle of the east side than anywhere beside the garden.
  data.yard =
      simple_yard(40, 20, 0.5, [](double x, double y) { return 10 - 0.01 * x + 0.02 * std::abs(y - 4.5); });
  open_side(data.yard, terrain::Side::east);
  data.design = simple_drain(data.yard, 0.5);
  site::Basin basin;
  basin.name = "garden";
  basin.outline = {{15, 2}, {20, 2}, {20, 7}, {15, 7}};
  basin.depth = 0.2;
  data.design.basins = {basin};
  const auto works = data.works();
  REQUIRE(works.size() == 1);
  CHECK(works[0].top == Approx(10 - 0.01 * 19.75 + 0.02 * 0.25).margin(1e-6));
  CHECK(works[0].deep() == Approx(0.2).margin(1e-6));
}
