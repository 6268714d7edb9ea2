#include "catch.hpp"
#include "designs.hpp"

#include <lowspot/job/other_works.hpp>
#include <lowspot/terrain/reshape.hpp>

using namespace lowspot;

namespace {
const job::WorkQuantity* found(const std::vector<job::WorkQuantity>& list, const std::string& piece) {
  for (const job::WorkQuantity& work : list)
    if (work.item.find(piece) != std::string::npos) return &work;
  return nullptr;
}

// Ten feet of better soil from here on [ft].
site::Amend patch(double from, double factor) {
  site::Amend amend;
  amend.name = "patch";
  const double west = from * foot, east = (from + 10) * foot;
  amend.outline = {{west, 5 * foot}, {east, 5 * foot}, {east, 15 * foot}, {west, 15 * foot}};
  amend.conductivity_factor = factor;
  return amend;
}
} // namespace

// A plane two inches under level ground over 20 by 10 ft, and a patch of better soil.
TEST_CASE("earth cut beyond what is filled is hauled away") {
  const SimpleYard yard = level_yard();
  site::Design design;
  site::Regrade plane;
  plane.name = "plane";
  plane.kind = "plane";
  plane.outline = {
      {20 * foot, 5 * foot}, {40 * foot, 5 * foot}, {40 * foot, 15 * foot}, {20 * foot, 15 * foot}};
  const double level = 100 * foot - 2 * inch;
  plane.surface = {{20 * foot, 5 * foot, level}, {40 * foot, 5 * foot, level}, {20 * foot, 15 * foot, level}};
  design.regrades = {plane};
  design.amends = {patch(60, 3)};
  const auto works = job::other_works(yard.site, design, yard.ground);
  const double cut = 200 * foot * foot * 2 * inch;
  REQUIRE(found(works, "ground cut"));
  CHECK_THAT(found(works, "ground cut")->net, WithinRel(cut, 1e-9));
  CHECK_FALSE(found(works, "ground filled"));
  CHECK_THAT(found(works, "spoil hauled away")->net, WithinRel(cut, 1e-9));
  CHECK(found(works, "spoil hauled away")->factor == yard.site.ordering.swell);
  CHECK_THAT(found(works, "soil amended")->net, WithinRel(100 * foot * foot, 1e-9));

  design.standing = {"plane"};
  const auto later = job::other_works(yard.site, design, yard.ground);
  CHECK_FALSE(found(later, "ground cut"));
  CHECK(found(later, "soil amended"));
}

TEST_CASE("a berm of soil that is not dug on the spot is brought in") {
  const SimpleYard yard = level_yard();
  site::Design design;
  site::Regrade berm;
  berm.name = "berm";
  berm.kind = "berm";
  berm.path = {{20 * foot, 10 * foot, 101 * foot}, {60 * foot, 10 * foot, 101 * foot}};
  berm.width = 2 * foot;
  berm.side_slope = 1.0 / 3;
  design.regrades = {berm};
  const auto works = job::other_works(yard.site, design, yard.ground);
  REQUIRE(found(works, "soil brought in"));
  CHECK_THAT(found(works, "soil brought in")->net, WithinRel(found(works, "ground filled")->net, 1e-12));
  CHECK_FALSE(found(works, "spoil hauled away"));
}

TEST_CASE("boxes, gutters, wells and cleanouts are counted") {
  const SimpleYard yard = level_yard();
  site::Design design;
  site::Inlet inlet;
  inlet.name = "grate";
  inlet.grate = {1 * foot, 1 * foot, 0.5, 0.5};
  design.inlets = {inlet};
  site::Channel channel;
  channel.name = "gutter";
  channel.path = {{10 * foot, 10 * foot}, {30 * foot, 10 * foot}};
  channel.width = 4 * inch;
  design.channels = {channel};
  site::Fitting cleanout;
  cleanout.name = "cleanout";
  cleanout.cleanout = 4 * inch;
  design.fittings = {cleanout, {"tee", {0, 0}}};
  site::Outlet well;
  well.name = "well";
  well.kind = "dry well";
  well.well = {2, 5, 1.5, 0.4};
  design.outlets = {well, daylight_outlet("end", {0, 0})};
  const auto works = job::other_works(yard.site, design, yard.ground);
  CHECK(found(works, "inlet box")->net == 1);
  CHECK_THAT(found(works, "channel")->net, WithinRel(20 * foot, 1e-12));
  CHECK(found(works, "cleanout, 4 in")->net == 1);
  CHECK_THAT(found(works, "stone in dry wells")->net, WithinRel(3.0, 1e-12));
  CHECK_THAT(found(works, "spoil hauled away")->net, WithinRel(3.0, 1e-12));
  REQUIRE(found(works, "fabric around dry wells"));
  // Bottom, sides and top of a pit of 2 m2, 5 m around, 1.5 m deep.
  CHECK_THAT(found(works, "fabric around dry wells")->net, WithinRel(2 * 2 + 5 * 1.5, 1e-12));
  CHECK(works.size() == 6);
}

TEST_CASE("a dry well that is a chamber takes no stone, and no fabric around that") {
  const SimpleYard yard = level_yard();
  site::Design design;
  site::Outlet well;
  well.name = "well";
  well.kind = "dry well";
  well.well = {2, 5, 1.5, 0.95};
  design.outlets = {well};
  const auto works = job::other_works(yard.site, design, yard.ground);
  CHECK(found(works, "dry well chamber")->net == 1);
  CHECK_FALSE(found(works, "stone in dry wells"));
  CHECK_FALSE(found(works, "fabric around dry wells"));
}

TEST_CASE("works are measured once, whether the ground is as it is or as they leave it") {
  const SimpleYard yard = level_yard();
  site::Design design;
  site::Basin basin;
  basin.name = "rain garden";
  basin.outline = {
      {20 * foot, 5 * foot}, {40 * foot, 5 * foot}, {40 * foot, 15 * foot}, {20 * foot, 15 * foot}};
  basin.depth = 6 * inch;
  basin.conductivity_factor = 3;
  design.basins = {basin};
  site::Regrade swale;
  swale.name = "swale";
  swale.kind = "swale";
  swale.path = {{60 * foot, 10 * foot, 99.5 * foot}, {80 * foot, 10 * foot, 99.4 * foot}};
  swale.width = 2 * foot;
  swale.side_slope = 1.0 / 3;
  design.regrades = {swale};
  design.amends = {patch(90, 2)};
  const auto as_is = job::other_works(yard.site, design, yard.ground);
  const auto shaped = job::other_works(yard.site, design, terrain::reshape(yard.site, yard.ground, design));
  REQUIRE(found(as_is, "soil amended"));
  CHECK(found(as_is, "ground cut")->net > 200 * foot * foot * 3 * inch);
  REQUIRE(shaped.size() == as_is.size());
  for (std::size_t k = 0; k < as_is.size(); ++k) {
    INFO(as_is[k].item);
    CHECK(shaped[k].item == as_is[k].item);
    CHECK_THAT(shaped[k].net, WithinRel(as_is[k].net, 1e-12));
  }
}

TEST_CASE("a pump comes with its valve and the line to its end") {
  const SimpleYard yard = level_yard();
  site::Design design;
  site::Outlet pump = daylight_outlet("sump", {20 * foot, 10 * foot});
  pump.kind = "pump";
  pump.well = {0.3, 1.9, 1.2, 1, site::not_given};
  pump.discharge = Point{60 * foot, 10 * foot};
  design.outlets = {pump};
  const auto works = job::other_works(yard.site, design, yard.ground);
  REQUIRE(found(works, "discharge line"));
  CHECK_THAT(found(works, "discharge line")->net, WithinRel(40 * foot, 1e-9));
  CHECK(found(works, "check valve"));
  design.outlets[0].discharge.reset(); // nobody has said where it ends
  CHECK_FALSE(found(job::other_works(yard.site, design, yard.ground), "discharge line"));
}

TEST_CASE("amended soil is as large as it is drawn, however it lies across the cells") {
  SimpleYard yard = simple_yard(60, 10, 2 * foot, [](double, double) { return 100 * foot; });
  site::Design design;
  design.amends = {patch(20.7, 2), patch(26.7, 2)}; // the second lies over four feet of the first
  design.amends[1].name = "second patch";
  for (site::Amend& each : design.amends)
    for (Point& corner : each.outline) corner.y = corner.y < 10 * foot ? 5.5 * foot : 8.5 * foot;
  const auto amended = [&] {
    double sum = 0;
    for (const job::WorkQuantity& work : job::other_works(yard.site, design, yard.ground))
      if (work.item == "soil amended") sum += work.net / (foot * foot);
    return sum;
  };
  CHECK_THAT(amended(), WithinRel(48, 1e-9));
  // What lies under a house or beyond the limits is not worked through.
  site::Building house;
  house.outline = {{21.7 * foot, 0}, {22.7 * foot, 0}, {22.7 * foot, 20 * foot}, {21.7 * foot, 20 * foot}};
  yard.site.buildings = {house};
  CHECK_THAT(amended(), WithinRel(45, 1e-9));
  yard.site.outline = {{0, 0}, {35.7 * foot, 0}, {35.7 * foot, 20 * foot}, {0, 20 * foot}};
  CHECK_THAT(amended(), WithinRel(42, 1e-9));
  design.standing = {"second patch"};
  CHECK_THAT(amended(), WithinRel(15, 1e-9));
}
