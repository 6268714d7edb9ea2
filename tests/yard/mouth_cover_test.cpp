#include <cmath>

#include "catch.hpp"
#include "figures.hpp"
#include "simple_yard.hpp"

#include <lowspot/drain/mouth.hpp>
#include <lowspot/yard/mouth_cover.hpp>
#include <lowspot/yard/yard.hpp>

using namespace lowspot;

namespace {

site::Inlet grate_at(Point at, const std::string& to) {
  site::Inlet inlet;
  inlet.name = "grate";
  inlet.at = at;
  inlet.grate = {0.3, 0.3, 0.5, 0.5};
  inlet.pipe = 0.1;
  inlet.depth = 0.35;
  inlet.sump = 0.1;
  inlet.to = to;
  return inlet;
}

// A carrier under the middle of the yard, solid, out through the east side; a grate in a dish.
site::Design grate_and_carrier(const SimpleYard& yard) {
  site::Design design = simple_drain(yard, 0.4);
  site::Run& run = design.runs[0];
  run.has_trench = false;
  run.trench_width = run.bedding = 0;
  run.pipe.slot_area = 0;
  design.inlets = {grate_at({5.2, 5.1}, "run")};
  return design;
}

SimpleYard dish() {
  return simple_yard(20, 20, 0.5,
                     [](double x, double y) { return 10 + 0.02 * std::hypot(x - 5.25, y - 5.25); });
}

} // namespace

TEST_CASE("a grate is set in the lowest cell around its place, a channel along its path") {
  const SimpleYard yard = dish();
  drain::Layout layout;
  drain::Fitting grate;
  grate.chamber = {0.09, 9.5, 11};
  grate.mouth = drain::Mouth{11, 1, 0.02, 0, true, {{5.6, 5.1}}};
  drain::Fitting channel = grate;
  channel.mouth->along = {{2, 2.2}, {6, 2.2}};
  layout.fittings = {grate, channel};
  std::vector<std::string> warnings;
  const auto covers = yard::settle_mouths(yard.ground, layout, warnings);
  CHECK(warnings.empty());
  REQUIRE(covers.size() == 2);
  CHECK(covers[0].cells == std::vector<int>{static_cast<int>(yard.ground.grid.index(10, 10))});
  CHECK(layout.fittings[0].mouth->level == yard.ground.elevation[yard.ground.grid.index(10, 10)]);
  CHECK(layout.fittings[0].chamber.top == layout.fittings[0].mouth->level);
  CHECK(covers[1].cells.size() == 8);
  double sum = 0;
  for (double share : covers[1].shares) sum += share;
  CHECK_THAT(sum, WithinRel(1.0, 1e-12));
}

namespace {
// Where the grate of a box lands, with what is said.
struct Landed {
  int cell = 0;
  double rim = 0;
  std::vector<std::string> warnings;
};
Landed land(const SimpleYard& yard, Point at, double depth = 0.1524) {
  drain::Layout layout;
  drain::Fitting grate;
  grate.name = "grate";
  grate.at = at;
  const double ground = terrain::elevation_at(yard.ground, at);
  grate.chamber = {0.09, ground - depth - 0.05, ground};
  grate.mouth = drain::Mouth{ground, 1, 0.02, 0, true, {at}};
  grate.link = {"run", ground - depth, 0.1, 4e-3};
  layout.fittings = {grate};
  Landed landed;
  const auto covers = yard::settle_mouths(yard.ground, layout, landed.warnings);
  landed.cell = covers[0].cells[0];
  landed.rim = layout.fittings[0].mouth->level;
  return landed;
}
} // namespace

// A patio with its edge at x = 5, the lawn 8 in lower beyond.
TEST_CASE("a grate inside the edge of a patio stays there, whether the edge is a step or a wall") {
  for (const bool wall : {false, true}) {
    SimpleYard yard = simple_yard(20, 20, 0.5, [&](double x, double) {
      return x < 5 ? 10.0 : wall ? 9.98 : 9.8;
    });
    for (std::size_t c = 0; c < 400; ++c) yard.ground.cover[c] = yard.ground.elevation[c] > 9.99 ? 0 : -1;
    for (int j = 0; wall && j < 20; ++j) yard.ground.crest_x[yard.ground.grid.x_face(10, j)] = 10.5;
    const Landed landed = land(yard, {4.7, 5.2});
    CAPTURE(wall);
    CHECK(yard.ground.grid.column(landed.cell) == 9);
    CHECK(landed.rim == 10.0);
    CHECK(landed.warnings.empty());
  }
}

TEST_CASE(
    "a channel along the very edge of a patio is set in the patio, whichever side of it the lawn is on") {
  for (const int turn : {0, 1, 2, 3}) { // the patio south, west, north and east of x = 5 or y = 5
    const auto on_patio = [&](double x, double y) {
      return turn == 0 ? y < 5 : turn == 1 ? x < 5 : turn == 2 ? y > 5 : x > 5;
    };
    SimpleYard yard =
        simple_yard(20, 20, 0.5, [&](double x, double y) { return on_patio(x, y) ? 10.1 : 10.0; });
    make_pervious(yard);
    for (std::size_t c = 0; c < yard.ground.grid.cells(); ++c)
      if (on_patio(yard.ground.grid.x(yard.ground.grid.column(c)),
                   yard.ground.grid.y(yard.ground.grid.row(c))))
        yard.ground.pervious[c] = 0;
    drain::Layout layout;
    drain::Fitting channel;
    channel.chamber = {0.3, 9.9, 10.1};
    channel.mouth = drain::Mouth{10.1, 1, 0.02, 0, true, {{2, 5}, {8, 5}}};
    if (turn % 2 == 1) channel.mouth->along = {{5, 2}, {5, 8}};
    layout.fittings = {channel};
    std::vector<std::string> warnings;
    const auto covers = yard::settle_mouths(yard.ground, layout, warnings);
    INFO(turn);
    CHECK(layout.fittings[0].mouth->level == 10.1);
    CHECK(covers[0].cells.size() == 12);
    for (const int cell : covers[0].cells) CHECK(yard.ground.pervious[cell] == 0);
  }
}

TEST_CASE("a grate beside the bottom of a swale lies in it, but not under its own pipe") {
  // Banks of one in four; the bottom row lies at y = 5 to 5.5.
  SimpleYard yard = simple_yard(20, 20, 0.5, [](double, double y) { return 10 + 0.25 * std::abs(y - 5.25); });
  CHECK(yard.ground.grid.row(land(yard, {5.2, 5.7}, 0.3).cell) == 10);
  // Steep enough that the box, laid from the ground of its place, would lie over that bottom.
  SimpleYard deep = simple_yard(20, 20, 0.5, [](double, double y) { return 10 + 0.32 * std::abs(y - 5.25); });
  const Landed landed = land(deep, {5.2, 5.75});
  CHECK(deep.ground.grid.row(landed.cell) == 11);
  CHECK(landed.warnings.empty());
}

TEST_CASE("a grate outside an edge, whose pipe would hang over the ground there, is warned of") {
  const SimpleYard yard = simple_yard(20, 20, 0.5, [](double x, double) { return x < 5 ? 10.0 : 9.6; });
  const Landed landed = land(yard, {5.01, 5.2}); // the ground there is between both
  REQUIRE(landed.warnings.size() == 1);
  CHECK_THAT(landed.warnings[0], ContainsSubstring("'grate'") && ContainsSubstring("foot of a step"));
}

TEST_CASE("a grate in a low spot passes what arrives at the head that its law asks for") {
  SimpleYard yard = dish();
  rain_at(yard, 2e-5, 4 * 3600.0); // 2 L/s on 100 m2
  const site::Design design = grate_and_carrier(yard);
  yard::Yard with(yard.site, yard.ground, yard.rain, &design);
  with.advance(3 * 3600.0);
  const double before = with.ledger().received(Store::drains);
  with.advance(3 * 3600.0 + 1200);
  CHECK_THAT((with.ledger().received(Store::drains) - before) / 1200, WithinRel(2e-3, 0.01));
  figures::record("yard", "grate in a low spot", "flow it passes, L/s", (2e-3) * 1e3,
                  ((with.ledger().received(Store::drains) - before) / 1200) * 1e3, figures::share(0.01));
  const double depth = with.depth()[yard.ground.grid.index(10, 10)];
  double slope = 0;
  CHECK_THAT(drain::mouth_flow(0.6, 0.0225, depth, slope), WithinRel(2e-3, 0.1));
  CHECK_THAT(with.closure(), WithinAbs(0, 1e-9));
  // When the rain is over the low spot empties down to the rim.
  with.advance(5 * 3600.0);
  CHECK(with.depth()[yard.ground.grid.index(10, 10)] < 2e-3);
}

TEST_CASE("a channel takes what comes to it along its length") {
  SimpleYard yard = simple_yard(24, 20, 0.5, [](double x, double) { return 10 - 0.02 * x; });
  open_side(yard, terrain::Side::east);
  rain_at(yard, 1e-5, 2 * 3600.0);
  site::Design design = simple_drain(yard, 0.6);
  design.runs[0].has_trench = false;
  design.runs[0].trench_width = design.runs[0].bedding = 0;
  design.runs[0].pipe.slot_area = 0;
  site::Channel channel;
  channel.name = "gutter";
  channel.path = {{6.1, 9.9}, {6.1, 5.0}};
  channel.width = channel.depth = 0.1;
  channel.grate = {0.1, 4.9, 0.5, 0.3};
  channel.capacity = 4e-3;
  channel.to = "run";
  design.channels = {channel};
  yard::Yard with(yard.site, yard.ground, yard.rain, &design);
  with.advance(3600);
  const double before = with.ledger().received(Store::drains);
  with.advance(7000);
  // 6.25 m of slope run onto 4.9 m of channel: 0.306 L/s. A little passes its ends.
  const double caught = (with.ledger().received(Store::drains) - before) / 3400;
  CHECK(caught > 0.88 * 1e-5 * 6.25 * 4.9);
  CHECK(caught < 1.03 * 1e-5 * 6.25 * 4.9);
  CHECK_THAT(with.closure(), WithinAbs(0, 1e-9));
}

TEST_CASE("an overfull carrier spills at the foot of the gutter that feeds it") {
  SimpleYard yard = simple_yard(20, 20, 0.5, [](double, double) { return 10.0; });
  open_side(yard, terrain::Side::east);
  site::Building house;
  house.name = "house";
  house.outline = {{1, 9}, {3, 9}, {3, 10}, {1, 10}};
  house.downspouts = {{"spout", {3.25, 5.25}, 400.0, "run"}};
  yard.site.buildings = {house};
  yard.ground.buildings = {terrain::Coverage{}};
  rain_at(yard, 1e-5, 1800.0); // 4 L/s from the roof
  site::Design design = simple_drain(yard, 0.4);
  design.runs[0].has_trench = false;
  design.runs[0].trench_width = design.runs[0].bedding = 0;
  design.runs[0].pipe.slot_area = 0;
  design.runs[0].pipe.diameter = 0.04;
  yard::Yard with(yard.site, yard.ground, yard.rain, &design);
  with.advance(1200);
  const auto depth = with.depth();
  const Grid& grid = yard.ground.grid;
  CHECK(depth[grid.index(6, 10)] > depth[grid.index(0, 0)]);
  CHECK(with.ledger().moved(Store::drain, Store::surface) > 2.0);
  CHECK_THAT(with.closure(), WithinAbs(0, 1e-9));
}

TEST_CASE("a pump without power fills its basin and then the ground, and empties both when it is back") {
  SimpleYard yard = dish();
  rain_at(yard, 1e-5, 3600.0);
  site::Design design = grate_and_carrier(yard);
  design.outlets[0].kind = "pump";
  design.outlets[0].well = {0.16, 1.42, 1.2, 1.0};
  design.outlets[0].pump_rate = 3e-3;
  design.outlets[0].pump_on = 0.3;
  design.outlets[0].pump_off = 0.1;
  design.outlets[0].fails_from = 0;
  design.outlets[0].fails_to = 5400;
  yard::Yard with(yard.site, yard.ground, yard.rain, &design);
  with.advance(5400);
  CHECK(with.ledger().received(Store::drains) == 0);
  CHECK(with.depth()[yard.ground.grid.index(10, 10)] > 0.02);
  with.advance(4 * 3600.0);
  CHECK(with.ledger().received(Store::drains) > 0.8 * 3.6);
  CHECK(with.depth()[yard.ground.grid.index(10, 10)] < 3e-3);
  CHECK_THAT(with.closure(), WithinAbs(0, 1e-9));
}
