#include <numbers>

#include "catch.hpp"
#include "simple_yard.hpp"

#include <lowspot/base/error.hpp>
#include <lowspot/yard/drain_layout.hpp>
#include <lowspot/yard/intake_layout.hpp>

using namespace lowspot;

namespace {
double level(Point) {
  return 10;
}
SimpleYard level_yard() {
  return simple_yard(40, 20, 0.5, [](double, double) { return 10.0; });
}
site::Outlet dry_well() {
  site::Outlet well;
  well.name = "well";
  well.kind = "dry well";
  well.at = {5, 5};
  well.well = {1.0, 3.5, 1.5, 0.4};
  return well;
}
} // namespace

TEST_CASE("an inlet's pipe lies at the run it drains to, its sump below") {
  SimpleYard yard = level_yard();
  site::Design design = simple_drain(yard);
  site::Inlet inlet;
  inlet.name = "grate";
  inlet.at = {12, 5.5};
  inlet.grate = {0.3, 0.3, 0.5, 0.5};
  inlet.pipe = 0.1;
  inlet.sump = 0.15;
  inlet.to = "run";
  design.inlets = {inlet};
  const drain::Layout layout = yard::resolve_drain(yard.site, design, level).layout;
  REQUIRE(layout.fittings.size() == 1);
  const drain::Fitting& built = layout.fittings[0];
  // The run begins at 4 m at 9.65 m and falls 1 %.
  CHECK_THAT(built.link.invert, WithinAbs(9.65 - 0.08, 1e-9));
  CHECK_THAT(built.chamber.bottom, WithinAbs(9.65 - 0.08 - 0.15, 1e-9));
  CHECK_THAT(built.mouth->rim, WithinRel(0.6, 1e-12));
  CHECK_THAT(built.mouth->area, WithinRel(0.0225, 1e-12));
  design.inlets[0].depth = 0.6;
  CHECK_THROWS_AS(yard::resolve_drain(yard.site, design, level), InputError);
}

TEST_CASE("a dry well soaks into the tight layer, or into what is stated") {
  SimpleYard yard = level_yard();
  yard.site.soils[0].tight_conductivity = {1e-7, 1e-7, 1e-7};
  site::Design design;
  design.outlets = {dry_well()};
  CHECK(yard::has_drain(design));
  drain::Outlet built = yard::resolve_drain(yard.site, design, level).layout.outlets[0];
  CHECK(built.chamber.area == Approx(0.4));
  CHECK(built.chamber.bottom == Approx(8.5));
  CHECK(built.chamber.soak_conductivity == 1e-7);
  CHECK(built.chamber.soak_top == Approx(9.7));
  design.outlets[0].well.conductivity = 2e-5;
  built = yard::resolve_drain(yard.site, design, level).layout.outlets[0];
  CHECK(built.chamber.soak_conductivity == 2e-5);
  CHECK(built.chamber.soak_top == Approx(10));
  CHECK(!yard::has_drain(site::Design{}));
}

TEST_CASE("a pop-up's lid lies at the ground unless the pipe is higher") {
  SimpleYard yard = level_yard();
  site::Outlet pop_up;
  pop_up.kind = "pop-up";
  pop_up.opening_head = 0.03;
  pop_up.weep = 0.006;
  drain::Outlet built = yard::full_outlet(yard.site, pop_up, 9.5, level);
  CHECK(built.level == 10);
  CHECK_THAT(built.weep_area, WithinRel(std::numbers::pi / 4 * 3.6e-5, 1e-12));
  pop_up.lid = 9.8;
  CHECK(yard::full_outlet(yard.site, pop_up, 9.5, level).level == 9.8);
}

TEST_CASE("downspouts become taps only where what they name exists") {
  SimpleYard yard = level_yard();
  site::Building house;
  house.name = "house";
  house.outline = {{2, 8}, {6, 8}, {6, 10}, {2, 10}};
  house.downspouts = {{"east", {6.5, 8}, 30.0, "run"}, {"west", {1.5, 8}, 30.0, "ground"}};
  yard.site.buildings = {house};
  site::Design design = simple_drain(yard);
  CHECK(yard::resolve_drain(yard.site, design, level).layout.taps.size() == 1);
  design.downspouts = {{"west", "run"}};
  CHECK(yard::resolve_drain(yard.site, design, level).layout.taps.size() == 2);
  CHECK(yard::destination(&design, house.downspouts[1]) == "run");
  CHECK(yard::destination(nullptr, house.downspouts[1]) == "ground");
}
