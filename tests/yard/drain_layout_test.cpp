#include "catch.hpp"
#include "simple_yard.hpp"

#include <lowspot/base/error.hpp>
#include <lowspot/drain/drain.hpp>
#include <lowspot/yard/drain_layout.hpp>

using namespace lowspot;

namespace {
SimpleYard falling_yard() {
  return simple_yard(40, 20, 0.5, [](double x, double) { return 10 - 0.03 * x; });
}
double falling_ground(Point at) {
  return 10 - 0.03 * at.x;
}
} // namespace

TEST_CASE("inverts follow from depth at the head, bedding and fall") {
  SimpleYard yard = falling_yard();
  const site::Design design = simple_drain(yard, 0.4);
  const drain::Run run = yard::resolve_drain(yard.site, design, falling_ground).layout.runs[0];
  const double head = falling_ground(run.path[0]) - 0.4 + 0.05;
  CHECK_THAT(run.inverts[0], WithinAbs(head, 1e-12));
  CHECK_THAT(run.inverts[1], WithinAbs(head - 0.01 * length(run.path), 1e-12));
}

TEST_CASE("a carrier starts at the lowest foot that arrives at its fitting, whatever the order of the runs") {
  SimpleYard yard = falling_yard();
  site::Design design = simple_drain(yard);
  site::Run carrier = design.runs[0];
  carrier.name = "carrier";
  carrier.has_trench = false;
  carrier.path = {{10, 5}, {20, 5}};
  carrier.from = "tee";
  site::Run first = design.runs[0], second = design.runs[0];
  first.name = "first";
  first.path = {{4, 5}, {10, 5}};
  first.to = "tee";
  second.name = "second";
  second.path = {{10, 2}, {10, 5}};
  second.trench_depth = 0.3;
  second.to = "tee";
  design.runs = {carrier, first, second};
  design.fittings = {{"tee", {10, 5}}};
  const drain::Layout layout = yard::resolve_drain(yard.site, design, falling_ground).layout;
  const double lowest = std::min(layout.runs[1].inverts.back(), layout.runs[2].inverts.back());
  CHECK(layout.runs[0].inverts[0] == lowest);
}

TEST_CASE("inverts given at head and foot are carried along the path") {
  SimpleYard yard = falling_yard();
  site::Design design = simple_drain(yard);
  design.runs[0].path = {{4, 5}, {8, 5}, {20, 5}};
  design.runs[0].inverts = {9.5, 9.1};
  const drain::Run run = yard::resolve_drain(yard.site, design, falling_ground).layout.runs[0];
  REQUIRE(run.inverts.size() == 3);
  CHECK_THAT(run.inverts[1], WithinAbs(9.4, 1e-12));
}

// Nought is a lid: the reader says that no water gets through it.
TEST_CASE("a cap has the conductivity that the run gives it, and a lid lets nothing through") {
  SimpleYard yard = falling_yard();
  site::Design design = simple_drain(yard);
  for (const double conductivity : {2e-6, 0.0}) {
    design.runs[0].cap = {"own figures", conductivity, 0.1};
    const drain::Layout layout = yard::resolve_drain(yard.site, design, falling_ground).layout;
    CHECK(layout.runs[0].cap.conductivity == conductivity);
    const drain::Drain drain(layout, falling_ground);
    const std::vector<double> ponded(drain.stations().size(), 0.1);
    std::vector<double> capacity(ponded.size());
    drain.cap_capacity(ponded, 10, capacity);
    CHECK((capacity[2] == 0) == (conductivity == 0));
  }
}

TEST_CASE("what the crew must know is said: little cover, deep trench, buried outlet") {
  SimpleYard yard = falling_yard();
  const auto said = [&](const site::Design& design, const std::string& words) {
    for (const std::string& warning : yard::resolve_drain(yard.site, design, falling_ground).warnings)
      if (warning.find(words) != std::string::npos) return true;
    return false;
  };
  site::Design shallow = simple_drain(yard, 0.17);
  shallow.runs[0].fall = 0.03; // with the ground
  CHECK(said(shallow, "of cover"));
  site::Design bare = simple_drain(yard, 0.1);
  bare.runs[0].fall = 0.03;
  CHECK(said(bare, "comes out of the ground"));
  CHECK(said(simple_drain(yard, 1.3), "from 1.2 m (4 ft) a ladder"));
  CHECK(said(simple_drain(yard, 1.6), "walls of 1.5 m (5 ft) and more"));
  site::Design deep = simple_drain(yard, 0.9);
  CHECK(said(deep, "below the ground beside it"));
}

TEST_CASE("runs in a loop are refused with the design's name") {
  SimpleYard yard = falling_yard();
  site::Design design = simple_drain(yard);
  site::Run back = design.runs[0];
  design.runs[0].from = "a";
  design.runs[0].to = "b";
  back.name = "back";
  back.from = "b";
  back.to = "a";
  design.runs.push_back(back);
  design.fittings = {{"a", {4, 5}}, {"b", {20, 5}}};
  CHECK_THROWS_AS(yard::resolve_drain(yard.site, design, falling_ground), InputError);
}

TEST_CASE("a pipe above the ground is refused with what to mend, unless it was dug so") {
  SimpleYard yard = falling_yard();
  yard.site.file = "site.toml";
  site::Design design = simple_drain(yard);
  design.runs[0].line = 12;
  const double ground = falling_ground(design.runs[0].path.front());
  design.runs[0].inverts = {ground + 0.05, ground + 0.05};
  try {
    yard::resolve_drain(yard.site, design, falling_ground);
    FAIL("a pipe above the ground was taken");
  } catch (const InputError& error) {
    CHECK(error.where.line == 12);
    CHECK_THAT(error.where.key, ContainsSubstring("run"));
    CHECK_THAT(error.found, ContainsSubstring("a pipe above the ground"));
    CHECK_THAT(error.mend, ContainsSubstring("inverts"));
  }
  design.as_dug = true;
  CHECK_NOTHROW(yard::resolve_drain(yard.site, design, falling_ground));
}

TEST_CASE("a run without a fall goes straight to its outlet's invert, or falls one in a hundred") {
  SimpleYard yard = falling_yard();
  site::Design design = simple_drain(yard);
  design.runs[0].fall = site::not_given;
  const double head = falling_ground(design.runs[0].path[0]) - 0.35;
  drain::Run run = yard::resolve_drain(yard.site, design, falling_ground).layout.runs[0];
  CHECK_THAT(run.inverts.back(), WithinAbs(head - 0.01 * 16, 1e-12));
  design.outlets[0].invert = 9.2;
  run = yard::resolve_drain(yard.site, design, falling_ground).layout.runs[0];
  CHECK_THAT(run.inverts.front(), WithinAbs(head, 1e-12));
  CHECK_THAT(run.inverts.back(), WithinAbs(9.2, 1e-12));
}

TEST_CASE("a drain that cannot run is refused with the design, the run and the fault") {
  SimpleYard yard = falling_yard();
  yard.site.file = "site.toml";
  site::Design design = simple_drain(yard);
  design.line = 7;
  const auto refused = [&](const site::Design& wrong) {
    try {
      yard::resolve_drain(yard.site, wrong, falling_ground);
    } catch (const InputError& error) {
      CHECK(error.where.file == "site.toml");
      CHECK(error.where.line == 7);
      CHECK(error.where.key == "design 'drain'");
      CHECK_THAT(error.mend, ContainsSubstring("change the run"));
      return error.found;
    }
    return std::string("nothing was refused");
  };
  site::Design uphill = design;
  uphill.runs[0].inverts = {9.1, 9.15};
  CHECK_THAT(refused(uphill), ContainsSubstring("\"run\" falls the wrong way"));
  site::Design lost = design;
  lost.runs[0].to = "ditch";
  CHECK_THAT(refused(lost), ContainsSubstring("\"ditch\", which is neither a fitting nor an outlet"));
  site::Design unused = design;
  unused.outlets.push_back(unused.outlets[0]);
  unused.outlets[1].name = "spare";
  CHECK_THAT(refused(unused), ContainsSubstring("outlet \"spare\" has no run"));
}

TEST_CASE("warnings speak the units of the yard") {
  SimpleYard yard = falling_yard();
  yard.site.units = "ft";
  site::Design shallow = simple_drain(yard, 0.05 + 0.1075 + 0.0254); // an inch of cover
  shallow.runs[0].fall = 0.03;                                       // with the ground
  const std::vector<std::string> warnings = yard::resolve_drain(yard.site, shallow, falling_ground).warnings;
  REQUIRE_FALSE(warnings.empty());
  CHECK_THAT(warnings.front(), ContainsSubstring("run 'run': only 1 in of cover"));
  CHECK_THAT(warnings.front(), ContainsSubstring("ft from its head"));
}

TEST_CASE("the bottom of a run has the tight layers that it crosses, each by its share of the path") {
  SimpleYard yard = falling_yard();
  yard.site.soils[0].tight_conductivity = {1e-9, 1e-9, 1e-9};
  yard.site.soils.push_back(yard.site.soils[0]);
  yard.site.soils[1].tight_conductivity = {5e-8, 5e-8, 5e-8};
  site::Area bed;
  bed.soil = 1;
  bed.outline = {{8, 0}, {20, 0}, {20, 10}, {8, 10}};
  yard.site.areas = {bed};
  site::Design design = simple_drain(yard, 0.4);
  design.runs[0].path = {{4, 5}, {20, 5}}; // a quarter of it in the yard's soil
  const drain::Run run = yard::resolve_drain(yard.site, design, falling_ground).layout.runs[0];
  CHECK_THAT(run.bottom_conductivity, WithinRel(0.25 * 1e-9 + 0.75 * 5e-8, 1e-9));
}

// A pipe without a trench depth of its own once began at the usual depth under a box that said otherwise.
TEST_CASE("a run that begins at a box with a depth leaves it there, or lower where its own depth says so") {
  SimpleYard yard = falling_yard();
  site::Design design = simple_drain(yard);
  site::Run& run = design.runs[0];
  run.from = "grate";
  run.trench_depth = site::not_given;
  site::Inlet inlet;
  inlet.name = "grate";
  inlet.at = run.path[0];
  inlet.depth = 0.3;
  inlet.grate.width = inlet.grate.length = 0.3;
  design.inlets = {inlet};
  const double ground = falling_ground(inlet.at);
  const auto layout = [&] { return yard::resolve_drain(yard.site, design, falling_ground).layout; };
  CHECK_THAT(layout().runs[0].inverts[0], WithinAbs(ground - 0.3, 1e-12));
  CHECK_THAT(layout().fittings[0].chamber.bottom, WithinAbs(ground - 0.3 - inlet.sump, 1e-12));
  run.trench_depth = 0.4;
  CHECK_THAT(layout().runs[0].inverts[0], WithinAbs(ground - 0.4 + run.bedding, 1e-12));
  run.trench_depth = 0.3; // its pipe would lie over that of the box
  CHECK_THAT(layout().runs[0].inverts[0], WithinAbs(ground - 0.3, 1e-12));
}
