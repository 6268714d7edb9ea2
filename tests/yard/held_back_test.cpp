#include <lowspot/yard/held_back.hpp>

#include <lowspot/yard/drain_layout.hpp>

#include "catch.hpp"
#include "simple_yard.hpp"

using namespace lowspot;

namespace {
// Ground that falls from 10 m at 2 % towards x.
double slope(Point at) {
  return 10 - 0.02 * at.x;
}

// A trench from x = 2 to 8 m and a solid pipe from there to an outlet at x = 18 m, where the ground is 9.64
// m. The ground over the trench is lowest at its foot, 9.84 m.
drain::Layout layout_to(drain::OutletKind kind) {
  drain::Layout layout;
  drain::Run trench;
  trench.name = "leg";
  trench.path = {{2, 5}, {8, 5}};
  trench.to = "bend";
  drain::Run carrier = trench;
  carrier.name = "carrier";
  carrier.path = {{8, 5}, {18, 5}};
  carrier.has_trench = false;
  carrier.from = "bend";
  carrier.to = "out";
  layout.runs = {carrier, trench};
  layout.fittings = {{"bend", {8, 5}}};
  drain::Outlet outlet;
  outlet.name = "out";
  outlet.kind = kind;
  outlet.at = {18, 5};
  outlet.invert = 9.2;
  outlet.level = 9.64;
  layout.outlets = {outlet};
  return layout;
}

std::vector<std::string> said(const drain::Layout& layout) {
  site::Site site;
  site.units = "m";
  site.unit = 1;
  return yard::warn_of_held_back(site, layout, slope);
}
} // namespace

TEST_CASE("a pop-up below the trench that feeds it is silent, one that opens above its ground is told") {
  drain::Layout layout = layout_to(drain::OutletKind::pop_up);
  layout.outlets[0].opening_head = 0.025;
  CHECK(said(layout).empty());
  // Over the carrier the ground is lower, but no water gets out of it.
  layout.outlets[0].level = 9.80;
  CHECK(said(layout).empty());
  layout.outlets[0].level = 9.84;
  const std::vector<std::string> words = said(layout);
  REQUIRE(words.size() == 1);
  CHECK_THAT(words[0],
             ContainsSubstring("outlet 'out' opens only when water in the drain stands at 9.865 m, 25 mm "
                               "above the lowest ground along run 'leg' (9.84 m)"));
  // An opening head of 1 ft where 1 in was meant does it, too; so does a lid from another benchmark.
  layout = layout_to(drain::OutletKind::pop_up);
  layout.outlets[0].opening_head = 0.3048;
  CHECK(said(layout).size() == 1);
  layout.outlets[0].opening_head = 0.025;
  layout.outlets[0].level = 100;
  CHECK(said(layout).size() == 1);
  // A lid below the pipe counts for nothing: the pipe holds the water.
  layout.outlets[0].level = -100;
  CHECK(said(layout).empty());
}

TEST_CASE("water outside counts by the lowest that it comes down to") {
  drain::Layout layout = layout_to(drain::OutletKind::submerged);
  CHECK(said(layout).empty());
  layout.outlets[0].level = 9.9;
  REQUIRE(said(layout).size() == 1);
  CHECK_THAT(said(layout)[0], ContainsSubstring("never falls below 9.9 m, 60 mm above"));
  CHECK_THAT(said(layout)[0], ContainsSubstring("`level`"));
  layout.outlets[0].times = {0, 3600, 7200};
  layout.outlets[0].levels = {9.9, 10, 9.5};
  CHECK(said(layout).empty());
  layout.outlets[0].levels = {9.9, 10, 9.9};
  CHECK(said(layout).size() == 1);
  layout.outlets[0].kind = drain::OutletKind::daylight;
  CHECK(said(layout).empty());
}

TEST_CASE("a grate that leads to the outlet counts with its rim, one of another drain does not") {
  drain::Layout layout = layout_to(drain::OutletKind::pop_up);
  drain::Fitting grate;
  grate.name = "grate";
  grate.mouth = drain::Mouth{9.5, 1, 0.1, 0, true, {{14, 5}}};
  grate.link.to = "carrier";
  layout.fittings.push_back(grate);
  REQUIRE(said(layout).size() == 1);
  CHECK_THAT(said(layout)[0], ContainsSubstring("at 'grate' (9.5 m)"));
  layout.fittings.back().link.to = "elsewhere";
  CHECK(said(layout).empty());
  layout.fittings.back().link.to = "carrier";
  layout.fittings.back().mouth->takes_in = false; // a cleanout with its lid on
  CHECK(said(layout).empty());
}

TEST_CASE(
    "a gutter that leads to the outlet counts with its foot, where the water would come up at the house") {
  drain::Layout layout = layout_to(drain::OutletKind::pop_up);
  layout.runs[1].has_trench = false; // solid from the house on
  CHECK(said(layout).empty());
  layout.taps = {{"spout", "leg", {2, 5}, {9.60, 0.4, 0.01, 0, false, {{2, 5}}}}};
  layout.outlets[0].opening_head = 0.025;
  layout.outlets[0].level = 9.57;
  CHECK(said(layout).empty()); // it opens at 9.595
  layout.outlets[0].level = 9.70;
  REQUIRE(said(layout).size() == 1);
  CHECK_THAT(said(layout)[0], ContainsSubstring("9.725 m, 125 mm above the lowest ground at the foot of "
                                                "downspout 'spout' (9.6 m): water comes up there"));
  layout.taps[0].to = "bend";
  CHECK(said(layout).size() == 1);
  layout.taps[0].to = "elsewhere";
  CHECK(said(layout).empty());
  layout.outlets[0].kind = drain::OutletKind::submerged;
  layout.taps[0].to = "carrier";
  CHECK(said(layout).size() == 1);
}

TEST_CASE("a drain laid in a yard says it") {
  const SimpleYard yard = simple_yard(80, 40, 0.25, [](double x, double) { return slope({x, 0}); });
  site::Design design = simple_drain(yard);
  site::Outlet& outlet = design.outlets[0];
  outlet.kind = "pop-up";
  outlet.opening_head = 0.025;
  outlet.lid = 30;
  const auto warned = [&] {
    const auto words = yard::resolve_drain(yard.site, design, slope).warnings;
    return std::any_of(words.begin(), words.end(), [](const std::string& one) {
      return one.find("opens only when water") != std::string::npos;
    });
  };
  CHECK(warned());
  outlet.lid = site::not_given;
  outlet.opening_head = 0;
  CHECK_FALSE(warned());
}
