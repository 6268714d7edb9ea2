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

namespace {
site::Inlet grate(const std::string& to) {
  site::Inlet inlet;
  inlet.name = "grate";
  inlet.at = {12, 5.5};
  inlet.grate = {0.3, 0.3, 0.5, 0.5};
  inlet.pipe = 0.1;
  inlet.to = to;
  inlet.line = 31;
  return inlet;
}
// What the user reads when the design is refused.
InputError refusal(const SimpleYard& yard, const site::Design& design,
                   const std::function<double(Point)>& ground_at) {
  try {
    yard::resolve_drain(yard.site, design, ground_at);
  } catch (const InputError& error) {
    return error;
  }
  return InputError({}, "nothing was refused", "", "");
}
} // namespace

TEST_CASE(
    "an inlet in a hollow that the run does not get under is refused, with how high its pipe would lie") {
  const SimpleYard yard = level_yard();
  site::Design design = simple_drain(yard);
  design.inlets = {grate("run")};
  design.inlets[0].at = {12, 4};
  // The run lies at 9.57 m where the grate drains to it.
  const auto hollow = [](double bottom) { return [bottom](Point at) { return at.y < 4.5 ? bottom : 10.0; }; };
  const InputError above = refusal(yard, design, hollow(9.5));
  CHECK(above.where.line == 31);
  CHECK(above.where.key == "inlet 'grate'");
  CHECK_THAT(above.found, ContainsSubstring("70 mm above the ground"));
  CHECK_THAT(above.mend, ContainsSubstring("deepen the run"));
  const InputError scraping = refusal(yard, design, hollow(9.6));
  CHECK_THAT(scraping.found, ContainsSubstring("only 30 mm under the ground"));
  CHECK_NOTHROW(yard::resolve_drain(yard.site, design, hollow(9.63)));
}

TEST_CASE("an inlet deeper than what it drains to is refused in the user's units") {
  SimpleYard yard = level_yard();
  yard.site.units = "ft";
  site::Design design = simple_drain(yard);
  design.inlets = {grate("run")};
  design.inlets[0].depth = 0.43 + 4 * 0.0254; // four inches below the run there
  const InputError error = refusal(yard, design, level);
  CHECK(error.where.line == 31);
  CHECK_THAT(error.found, ContainsSubstring("4 in below what it drains to"));
  CHECK_THAT(error.mend, ContainsSubstring("deepen 'run'"));
  design.inlets[0].depth = 0.43 + 0.019; // what a pipe's bed is out by
  CHECK_NOTHROW(yard::resolve_drain(yard.site, design, level));
}

TEST_CASE("an inlet that leads nowhere and at which nothing begins is refused") {
  const SimpleYard yard = level_yard();
  site::Design design = simple_drain(yard);
  design.inlets = {grate("")};
  const InputError error = refusal(yard, design, level);
  CHECK_THAT(error.found, ContainsSubstring("nothing takes the water from"));
  CHECK_THAT(error.mend, ContainsSubstring("`to`"));
}

TEST_CASE("where a run begins at an inlet, the box is as deep as the run's head") {
  const SimpleYard yard = level_yard();
  site::Design design = simple_drain(yard);
  design.inlets = {grate("")};
  design.inlets[0].at = design.runs[0].path.front();
  design.inlets[0].sump = 0.1;
  design.runs[0].from = "grate";
  const drain::Fitting as_run = yard::resolve_drain(yard.site, design, level).layout.fittings[0];
  CHECK_THAT(as_run.chamber.bottom, WithinAbs(9.65 - 0.1, 1e-12));
  CHECK(as_run.link.to.empty());
  // Its own depth stands where it is greater, and the run begins there.
  design.inlets[0].depth = 0.5;
  const drain::Layout deeper = yard::resolve_drain(yard.site, design, level).layout;
  CHECK_THAT(deeper.fittings[0].chamber.bottom, WithinAbs(9.5 - 0.1, 1e-12));
  CHECK_THAT(deeper.runs[0].inverts.front(), WithinAbs(9.5, 1e-12));
}

TEST_CASE("an inlet's pipe goes a foot under the ground into a dry well, and into a box at its bottom") {
  const SimpleYard yard = level_yard();
  site::Design design;
  design.outlets = {dry_well()};
  design.inlets = {grate("well"), grate("grate")};
  design.inlets[1].name = "second grate";
  design.inlets[1].at = {13, 5.5};
  const drain::Layout layout = yard::resolve_drain(yard.site, design, level).layout;
  CHECK_THAT(layout.fittings[0].link.invert, WithinAbs(10 - 0.3048, 1e-12));
  CHECK_THAT(layout.fittings[1].link.invert, WithinAbs(layout.fittings[0].chamber.bottom, 1e-12));
  design.inlets[0].pipe = 0.3; // too thick for a foot
  design.inlets.resize(1);
  const drain::Layout thick = yard::resolve_drain(yard.site, design, level).layout;
  CHECK_THAT(thick.fittings[0].link.invert, WithinAbs(10 - 0.4, 1e-12));
}

TEST_CASE("a channel on sloping ground is said to be computed level; one that cannot empty is said, too") {
  const SimpleYard yard = level_yard();
  site::Design design = simple_drain(yard);
  site::Channel channel;
  channel.name = "gutter";
  channel.path = {{6, 6}, {12, 6}};
  channel.width = 0.1;
  channel.depth = 0.15;
  channel.grate = {0.1, 1, 0.5, 0.5};
  channel.capacity = 0.004;
  channel.to = "run";
  design.channels = {channel};
  const auto warnings = [&](const std::function<double(Point)>& ground_at) {
    std::string text;
    for (const std::string& line : yard::resolve_drain(yard.site, design, ground_at).warnings)
      text += line + "\n";
    return text;
  };
  // The run lies at 9.57 m beside the channel's end, 0.28 m under a trough in level ground.
  CHECK_THAT(warnings(level), !ContainsSubstring("gutter"));
  // From 10 m to 9.7 m along it: a trough as deep as its lowest place.
  const auto falling = [](Point at) { return at.y > 5.5 ? 10 - 0.05 * (at.x - 6) : 10.0; };
  CHECK_THAT(warnings(falling), ContainsSubstring("channel 'gutter': the ground along it falls by 300 mm"));
  const drain::Fitting built = yard::resolve_drain(yard.site, design, falling).layout.fittings[0];
  CHECK_THAT(built.chamber.top, WithinAbs(9.7, 1e-12));
  CHECK_THAT(built.chamber.bottom, WithinAbs(9.55, 1e-12));
  CHECK_THAT(built.chamber.area, WithinRel(0.6, 1e-12));
  CHECK_THAT(built.mouth->rim, WithinRel(2 * 6 * 0.5, 1e-12));
  CHECK_THAT(warnings(falling), !ContainsSubstring("never empties"));
  const auto low = [](Point at) { return at.y > 5.5 ? 9.65 : 10.0; }; // bottom at 9.5 m
  CHECK_THAT(warnings(low), ContainsSubstring("'run' lies 70 mm above the channel's bottom"));
}

TEST_CASE("a cleanout is an opening at the ground that a head must lift") {
  site::Fitting fitting;
  fitting.name = "cleanout";
  fitting.at = {3, 4};
  fitting.loss = 0.5;
  CHECK_FALSE(yard::plain_fitting(fitting, level).mouth.has_value());
  fitting.cleanout = 0.1;
  fitting.lift = 0.02;
  const drain::Fitting built = yard::plain_fitting(fitting, level);
  REQUIRE(built.mouth.has_value());
  CHECK(built.loss == 0.5);
  CHECK(built.mouth->level == 10);
  CHECK_THAT(built.mouth->rim, WithinRel(std::numbers::pi * 0.1, 1e-12));
  CHECK_THAT(built.mouth->area, WithinRel(std::numbers::pi * 0.0025, 1e-12));
  CHECK(built.mouth->lift == 0.02);
}

TEST_CASE("an outlet under water stands at the water's level, in the course of time") {
  const SimpleYard yard = level_yard();
  site::Outlet pond;
  pond.kind = "submerged";
  pond.invert = 9.4;
  pond.level = 9.5;
  pond.times = {0, 3600};
  pond.levels = {9.5, 9.8};
  const drain::Outlet built = yard::full_outlet(yard.site, pond, 9.4, level);
  CHECK(built.kind == drain::OutletKind::submerged);
  CHECK(built.invert == 9.4);
  CHECK(built.level == 9.5);
  CHECK(built.levels == std::vector<double>{9.5, 9.8});
  CHECK(built.times == std::vector<double>{0, 3600});
}

TEST_CASE("a pump's switches lie above the bottom of its basin, which must lie below the pipe that arrives") {
  const SimpleYard yard = level_yard();
  site::Outlet pump = dry_well();
  pump.name = "sump";
  pump.kind = "pump";
  pump.line = 44;
  pump.well.void_share = 1;
  pump.pump_rate = 0.002;
  pump.pump_on = 0.6;
  pump.pump_off = 0.2;
  pump.fails_from = 100;
  pump.fails_to = 200;
  const drain::Outlet built = yard::full_outlet(yard.site, pump, 9.0, level);
  CHECK(built.kind == drain::OutletKind::pump);
  CHECK_THAT(built.pump.on, WithinAbs(8.5 + 0.6, 1e-12));
  CHECK_THAT(built.pump.off, WithinAbs(8.5 + 0.2, 1e-12));
  CHECK(built.pump.fails_from == 100);
  CHECK(built.chamber.soak_conductivity == 0); // its walls are tight
  try {
    yard::full_outlet(yard.site, pump, 8.4, level);
    FAIL("a pipe below the bottom was taken");
  } catch (const InputError& error) {
    CHECK(error.where.line == 44);
    CHECK(error.where.key == "outlet 'sump'");
    CHECK_THAT(error.found, ContainsSubstring("100 mm below the bottom of the pump"));
    CHECK_THAT(error.mend, ContainsSubstring("`depth`"));
  }
}

TEST_CASE("a dry well soaks into the soil of the area it lies in") {
  SimpleYard yard = level_yard();
  yard.site.soils.push_back(yard.site.soils[0]);
  yard.site.soils[0].tight_conductivity = {1e-8, 1e-8, 1e-8};
  yard.site.soils[1].tight_conductivity = {5e-6, 5e-6, 5e-6};
  site::Area meadow;
  meadow.outline = {{0, 0}, {10, 0}, {10, 10}, {0, 10}};
  meadow.soil = 1;
  yard.site.areas = {meadow};
  site::Outlet well = dry_well();
  CHECK(yard::full_outlet(yard.site, well, 9, level).chamber.soak_conductivity == 5e-6);
  well.at = {15, 5};
  CHECK(yard::full_outlet(yard.site, well, 9, level).chamber.soak_conductivity == 1e-8);
}
