// The coupled yard: books close, water is shared once, and the whole agrees with what its parts must give.
#include "catch.hpp"
#include "figures.hpp"
#include "simple_yard.hpp"

#include <lowspot/base/error.hpp>
#include <lowspot/yard/yard.hpp>

using namespace lowspot;

namespace {
constexpr double mm_per_hour = 1e-3 / 3600;

double closing_error(const yard::Yard& yard) {
  return std::abs(yard.closure());
}
} // namespace

TEST_CASE("rain on a closed hard basin stands there to the last drop") {
  SimpleYard yard = simple_yard(12, 10, 0.5, [](double, double) { return 1.0; });
  rain_at(yard, 36 * mm_per_hour, 1800);
  yard::Yard run(yard.site, yard.ground, yard.rain, nullptr);
  run.advance(3600);
  CHECK_THAT(run.stored(Store::surface), WithinRel(0.018 * 30.0, 1e-12));
  figures::record("yard", "rain on a closed hard basin", "water on it, m3", 0.018 * 30.0,
                  run.stored(Store::surface), figures::share(1e-12));
  CHECK_THAT(run.depth()[5], WithinAbs(0.018, 1e-12));
  CHECK(closing_error(run) < 1e-12);
}

TEST_CASE("leaves and mulch fill first and dry into the air") {
  SimpleYard yard = simple_yard(4, 4, 1.0, [](double, double) { return 1.0; });
  yard.ground.interception.assign(16, 0.002);
  yard.site.storm.reference_et = 5e-3 / 86400;
  rain_at(yard, 10 * mm_per_hour, 720); // 2 mm, all of it held
  yard::Yard run(yard.site, yard.ground, yard.rain, nullptr);
  run.advance(720);
  CHECK(run.depth()[0] < 1e-12);
  CHECK_THAT(run.stored(Store::surface), WithinAbs(0.032, 1e-9));
  run.advance(86400);
  CHECK_THAT(run.ledger().received(Store::evapotranspiration), WithinAbs(0.032, 1e-9));
}

TEST_CASE("a slow soil takes what Green and Ampt allow, the tight layer lets it out, the books close") {
  SimpleYard yard = simple_yard(8, 8, 0.5, [](double, double) { return 1.0; });
  make_pervious(yard);
  yard.site.soils[0].tight_conductivity = {2e-8, 2e-8, 2e-8};
  rain_at(yard, 40 * mm_per_hour, 3600);
  yard::Yard run(yard.site, yard.ground, yard.rain, nullptr);
  run.advance(3 * 86400.0);
  const Ledger& books = run.ledger();
  const double rain = 0.04 * 16;
  CHECK_THAT(books.given(Store::rain), WithinRel(rain, 1e-12));
  CHECK(books.balance(Store::deep_leakage) > 0.01 * rain);
  CHECK(books.received(Store::edges) == 0.0);
  CHECK(closing_error(run) < 1e-9 * rain);
  figures::record("yard", "storm and three days on slow soil", "books, as a share of the rain",
                  closing_error(run) / rain, figures::at_most(1e-9));
}

TEST_CASE("a table that starts high leaks at the unit gradient of the tight layer") {
  // Closure with a free-draining tight layer of no stated thickness: H falls by K t / S, whatever H.
  SimpleYard yard = simple_yard(4, 4, 1.0, [](double, double) { return 1.0; });
  make_pervious(yard);
  site::Soil& soil = yard.site.soils[0];
  soil.perched_start = 0.25;
  soil.tight_conductivity = {1e-7, 1e-7, 1e-7};
  soil.field_capacity = soil.initial_moisture =
      0.35; // porosity less drainable porosity: nothing drains later
  yard::Yard run(yard.site, yard.ground, yard.rain, nullptr);
  run.advance(86400);
  CHECK_THAT(run.saturated()[5], WithinRel(0.25 - 1e-7 * 86400 / 0.1, 1e-3));
  figures::record("yard", "perched start over a leaking layer", "thickness after a day, m",
                  0.25 - 1e-7 * 86400 / 0.1, run.saturated()[5], figures::share(1e-3));
  run.advance(5 * 86400.0);
  CHECK(run.saturated()[5] < 1e-9);
  CHECK(closing_error(run) < 1e-9);
}

TEST_CASE("mirrored yards give mirrored depths") {
  const auto bumpy = [](double x, double y) {
    return 1 + 0.05 * std::sin(2 * x) + 0.02 * std::cos(3 * y) - 0.01 * x;
  };
  SimpleYard one = simple_yard(16, 12, 0.5, bumpy);
  SimpleYard two = simple_yard(16, 12, 0.5, [&](double x, double y) { return bumpy(8.0 - x, y); });
  open_side(one, terrain::Side::east);
  open_side(two, terrain::Side::west);
  for (SimpleYard* yard : {&one, &two}) {
    make_pervious(*yard);
    rain_at(*yard, 50 * mm_per_hour, 900);
  }
  yard::Yard a(one.site, one.ground, one.rain, nullptr), b(two.site, two.ground, two.rain, nullptr);
  a.advance(1800);
  b.advance(1800);
  double worst = 0;
  for (int j = 0; j < 12; ++j)
    for (int i = 0; i < 16; ++i)
      worst = std::max(worst, std::abs(a.depth()[one.ground.grid.index(i, j)] -
                                       b.depth()[one.ground.grid.index(15 - i, j)]));
  CHECK(worst < 1e-10);
}

TEST_CASE(
    "a drain under open stone empties a basin, one under sod hardly does, and the books close in both") {
  SimpleYard yard = simple_yard(24, 12, 0.25, [](double x, double y) {
    return 1.0 + 0.02 * std::hypot(x - 3, y - 1.5); // a shallow bowl
  });
  make_pervious(yard);
  open_side(yard, terrain::Side::east);
  rain_at(yard, 40 * mm_per_hour, 1800);
  site::Design open = simple_drain(yard, 0.45), sod = open;
  sod.runs[0].cap = {"sod", 1e-6, 0.1};
  const double rain = 0.02 * 18;
  double remaining[3];
  const site::Design* designs[3] = {nullptr, &open, &sod};
  for (int k = 0; k < 3; ++k) {
    yard::Yard run(yard.site, yard.ground, yard.rain, designs[k]);
    run.advance(3 * 3600.0);
    remaining[k] = run.surface().volume();
    CHECK(closing_error(run) < 1e-9 * rain);
    if (k == 1) CHECK(run.ledger().received(Store::drains) > 0.2 * rain);
  }
  CHECK(remaining[1] < 0.1 * remaining[0]);
  CHECK(remaining[2] > 0.6 * remaining[0]);
}

TEST_CASE("roof water led into a run leaves by its outlet") {
  SimpleYard yard = simple_yard(24, 12, 0.25, [](double x, double) { return 2.0 - 0.02 * x; });
  open_side(yard, terrain::Side::east);
  site::Building shed;
  shed.name = "shed";
  shed.outline = {{0, 0}, {0.5, 0}, {0.5, 0.5}, {0, 0.5}};
  shed.downspouts = {{"spout", {1.4, 1.5}, 30.0, "run"}};
  yard.site.buildings = {shed};
  yard.ground.buildings.resize(1);
  rain_at(yard, 30 * mm_per_hour, 1800);
  const site::Design design = simple_drain(yard, 0.45);
  yard::Yard run(yard.site, yard.ground, yard.rain, &design);
  run.advance(2 * 3600.0);
  const double roof = 0.015 * 30;
  CHECK_THAT(run.ledger().moved(Store::rain, Store::drain), WithinRel(roof, 1e-9));
  CHECK(run.ledger().received(Store::drains) > 0.95 * roof);
  CHECK(closing_error(run) < 1e-9);
}

TEST_CASE("water arriving along an edge is booked as inflow") {
  SimpleYard yard = simple_yard(10, 10, 0.5, [](double, double y) { return 1.0 + 0.02 * y; });
  open_side(yard, terrain::Side::south);
  yard.site.edges.inflows = {{{{0, 5}, {5, 5}}, {0, 600}, {1e-3, 0}, "neighbour"}};
  yard::Yard run(yard.site, yard.ground, yard.rain, nullptr);
  run.advance(3600);
  CHECK_THAT(run.ledger().given(Store::inflow), WithinRel(0.6, 1e-12));
  figures::record("yard", "water along an edge", "booked as inflow, m3", 0.6,
                  run.ledger().given(Store::inflow), figures::share(1e-12));
  CHECK(run.ledger().received(Store::edges) > 0.55);
  CHECK(closing_error(run) < 1e-12);
}

TEST_CASE("an inflow along a limit that lies between cells comes in over all of that side") {
  SimpleYard yard = simple_yard(10, 10, 0.5, [](double, double y) { return 1.0 + 0.02 * y; });
  yard.site.outline = {{0, 0}, {5, 0}, {5, 5.2}, {0, 5.2}}; // of the next row no middle lies inside
  yard.site.edges.inflows = {{{{0, 5.2}, {5, 5.2}}, {0}, {1e-3}, "neighbour"}};
  yard::Yard run(yard.site, yard.ground, yard.rain, nullptr);
  run.advance(60);
  CHECK_THAT(run.ledger().given(Store::inflow), WithinRel(0.06, 1e-12));
  CHECK(run.depth()[90] > 0);
  for (std::size_t c = 90; c < 100; ++c) CHECK_THAT(run.depth()[c], WithinRel(run.depth()[90], 1e-9));
}

TEST_CASE("more output times change nothing that matters") {
  SimpleYard yard = simple_yard(10, 10, 0.5, [](double x, double) { return 1.0 - 0.01 * x; });
  make_pervious(yard);
  open_side(yard, terrain::Side::east);
  rain_at(yard, 40 * mm_per_hour, 1200);
  yard::Yard coarse(yard.site, yard.ground, yard.rain, nullptr),
      fine(yard.site, yard.ground, yard.rain, nullptr);
  coarse.advance(3600);
  for (int k = 1; k <= 120; ++k) fine.advance(30.0 * k);
  CHECK_THAT(fine.ledger().received(Store::edges), WithinRel(coarse.ledger().received(Store::edges), 2e-3));
}

namespace {
// A slope of 6 by 3 m out to the east, with a shed whose roof feeds a pump's basin.
struct PumpedShed {
  SimpleYard yard = simple_yard(24, 12, 0.25, [](double x, double) { return 2.0 - 0.02 * x; });
  site::Design design;
  PumpedShed() {
    open_side(yard, terrain::Side::east);
    site::Building shed;
    shed.name = "shed";
    shed.outline = {{0, 0}, {0.5, 0}, {0.5, 0.5}, {0, 0.5}};
    shed.downspouts = {{"spout", {1.4, 1.5}, 30.0, "sump"}};
    yard.site.buildings = {shed};
    yard.ground.buildings.resize(1);
    site::Outlet pump;
    pump.name = "sump";
    pump.kind = "pump";
    pump.at = {1.4, 1.5};
    pump.well = {1.0, 4.0, 1.0, 1.0};
    pump.pump_rate = 0.002;
    pump.pump_on = 0.3;
    pump.pump_off = 0.1;
    design.name = "pump";
    design.outlets = {pump};
  }
};
constexpr double roof_water = 30 * 0.015; // m3: half an hour at 30 mm/h
} // namespace

TEST_CASE("a pump lifts out of the yard, or through its hose onto the ground") {
  for (const bool hose : {false, true}) {
    PumpedShed shed;
    rain_at(shed.yard, 30 * mm_per_hour, 1800);
    if (hose) shed.design.outlets[0].discharge = Point{4.0, 1.5};
    yard::Yard run(shed.yard.site, shed.yard.ground, shed.yard.rain, &shed.design);
    run.advance(2 * 3600.0);
    const double in_basin = run.stored(Store::drain);
    CHECK(in_basin > 0.1 - 1e-3);
    CHECK(in_basin < 0.3 + 1e-3);
    CAPTURE(hose);
    CHECK_THAT(run.ledger().moved(Store::drain, hose ? Store::surface : Store::drains),
               WithinAbs(roof_water - in_basin, 1e-9));
    CHECK(run.ledger().moved(Store::drain, hose ? Store::drains : Store::surface) == 0);
    CHECK(closing_error(run) < 1e-9);
  }
}

TEST_CASE("a hose that ends far from any ground of the yard is refused by name") {
  PumpedShed shed;
  shed.design.outlets[0].discharge = Point{60, 1.5};
  try {
    yard::Yard run(shed.yard.site, shed.yard.ground, shed.yard.rain, &shed.design);
    FAIL("the hose was taken");
  } catch (const InputError& error) {
    CHECK_THAT(error.what(), ContainsSubstring("the hose of 'sump'"));
  }
}

TEST_CASE("an outlet amid the yard runs onto the ground there, one at an open limit leaves") {
  for (const double end : {4.0, 6.0}) {
    SimpleYard yard = simple_yard(24, 12, 0.25, [](double x, double) { return 2.0 - 0.1 * x; });
    open_side(yard, terrain::Side::east);
    for (terrain::EdgeFace& edge : yard.ground.edges) edge.open = edge.side == terrain::Side::east;
    rain_at(yard, 30 * mm_per_hour, 1800);
    site::Design design = simple_drain(yard, 0.3);
    design.runs[0].path = {{1, 1.5}, {end, 1.5}};
    design.outlets[0].at = {end, 1.5};
    design.runs[0].fall = 0.1;
    yard::Yard run(yard.site, yard.ground, yard.rain, &design);
    run.advance(3600);
    CAPTURE(end);
    CHECK((run.ledger().moved(Store::drain, Store::surface) > 0.01) == (end < 5));
    CHECK((run.ledger().received(Store::drains) > 0.01) == (end > 5));
    CHECK(closing_error(run) < 1e-9);
  }
}

TEST_CASE("an outlet beside a walled limit runs onto the ground, one in the wall leaves") {
  for (const double inside : {0.3, 0.02}) {
    SimpleYard yard = simple_yard(24, 12, 0.25, [](double x, double) { return 2.0 - 0.1 * x; });
    open_side(yard, terrain::Side::east);
    for (terrain::EdgeFace& edge : yard.ground.edges) edge.open = false;
    yard.site.outline = {{0, 0}, {6, 0}, {6, 3}, {0, 3}};
    rain_at(yard, 30 * mm_per_hour, 1800);
    site::Design design = simple_drain(yard, 0.3);
    design.runs[0].path = {{1, 1.5}, {6 - inside, 1.5}};
    design.outlets[0].at = design.runs[0].path[1];
    design.runs[0].fall = 0.1;
    yard::Yard run(yard.site, yard.ground, yard.rain, &design);
    run.advance(3600);
    CAPTURE(inside);
    CHECK((run.ledger().moved(Store::drain, Store::surface) > 0.01) == (inside > 0.1));
    CHECK((run.ledger().received(Store::drains) > 0.01) == (inside < 0.1));
  }
}

namespace {
// The greatest flow over the east side after a time [m3/s], and the volume.
struct EastSide : yard::Observer {
  double from = 0, greatest = 0, volume = 0;
  explicit EastSide(double from_) : from(from_) {}
  void step_done(const yard::Yard&, const yard::StepFlows& flows) override {
    if (flows.start < from) return;
    greatest = std::max(greatest, flows.side_volume[1] / flows.dt);
    volume += flows.side_volume[1];
  }
};
} // namespace

TEST_CASE("an outlet near the limit gives no rush in the short step before an output") {
  SimpleYard yard = simple_yard(24, 12, 0.25, [](double x, double) { return 2.0 - 0.1 * x; });
  for (terrain::EdgeFace& edge : yard.ground.edges) edge.open = edge.side == terrain::Side::east;
  std::erase_if(yard.ground.edges, [](const terrain::EdgeFace& edge) { return !edge.open; });
  site::Building shed;
  shed.name = "shed";
  shed.outline = {{0, 0}, {0.5, 0}, {0.5, 0.5}, {0, 0.5}};
  shed.downspouts = {{"spout", {1.4, 1.5}, 150.0, "run"}};
  yard.site.buildings = {shed};
  yard.ground.buildings.resize(1);
  rain_at(yard, 30 * mm_per_hour, 3600);
  site::Design design = simple_drain(yard, 0.3);
  design.runs[0].path = {{1, 1.5}, {5, 1.5}};
  design.outlets[0].at = {5, 1.5};
  design.runs[0].fall = 0.1;
  yard::Yard run(yard.site, yard.ground, yard.rain, &design);
  EastSide side(1800);
  for (int k = 1; k <= 60; ++k) run.advance(60.0 * k, &side);
  CHECK(run.ledger().moved(Store::drain, Store::surface) > 1);
  CHECK(side.greatest < 1.1 * side.volume / 1800);
}

namespace {
// How much faster than in the step before a drain ever runs, once it has begun.
struct OutletJumps : yard::Observer {
  double from = 0, before = 0, most = 0;
  explicit OutletJumps(double from_) : from(from_) {}
  void step_done(const yard::Yard&, const yard::StepFlows& flows) override {
    const double rate = flows.outlets[0] / flows.dt;
    if (flows.start > from && before > 0) most = std::max(most, rate / before);
    before = rate;
  }
};
} // namespace

TEST_CASE("a drain that seepage feeds does not run faster when the rain ends") {
  SimpleYard yard = simple_yard(16, 12, 0.5, [](double, double) { return 1.0; });
  make_pervious(yard);
  site::Soil& soil = yard.site.soils[0];
  soil.depth = {0.6, 0.6, 0.6};
  soil.conductivity = {1e-4, 1e-4, 1e-4};
  soil.perched_start = 0.3;
  rain_at(yard, 2 * mm_per_hour, 6 * 3600);
  const site::Design design = simple_drain(yard, 0.55);
  yard::Yard run(yard.site, yard.ground, yard.rain, &design);
  OutletJumps jumps(3 * 3600.0);
  run.advance(8 * 3600.0, &jumps);
  CHECK(jumps.before > 0);
  CHECK(jumps.most < 1.02);
  CHECK(closing_error(run) < 1e-9);
}

TEST_CASE("an inflow along a line within the yard is refused with its name") {
  SimpleYard yard = simple_yard(10, 10, 0.5, [](double, double) { return 1.0; });
  yard.site.file = "site.toml";
  yard.site.edges.inflows = {{{{2, 2.5}, {3, 2.5}}, {0}, {1e-3}, "neighbour"}};
  try {
    yard::Yard run(yard.site, yard.ground, yard.rain, nullptr);
    FAIL("the line was taken");
  } catch (const InputError& error) {
    CHECK(error.where.file == "site.toml");
    CHECK_THAT(error.where.key, ContainsSubstring("neighbour"));
    CHECK_THAT(error.found, ContainsSubstring("touches no side"));
    CHECK_THAT(error.mend, ContainsSubstring("outline"));
  }
}

TEST_CASE("a figure that is not a number stops the run, by the store that it reached") {
  SimpleYard yard = simple_yard(4, 4, 0.5, [](double, double) { return 1.0; });
  yard::Options options;
  options.leaks = {{"leak", {5}, std::numeric_limits<double>::quiet_NaN()}};
  yard::Yard run(yard.site, yard.ground, yard.rain, nullptr, options);
  CHECK_THROWS_AS(run.advance(600), NumericsError);
}

TEST_CASE(
    "what stands in the way of a design's earthworks is told once, with what the ground says left out") {
  SimpleYard yard = simple_yard(40, 40, 0.25, [](double, double) { return 1.0; });
  rain_at(yard, 10 * mm_per_hour, 600);
  yard.ground.warnings = {"of the ground"};
  site::Area patio;
  patio.name = "patio";
  patio.outline = {{4, 4}, {6, 4}, {6, 6}, {4, 6}};
  patio.impervious = true;
  yard.site.areas = {patio};
  site::Design design;
  site::Regrade swale;
  swale.name = "ditch";
  swale.kind = "swale";
  swale.path = {{1, 5, 0.8}, {9, 5, 0.8}};
  swale.width = 0.5;
  swale.side_slope = 0.3;
  design.regrades = {swale};
  const yard::Yard run(yard.site, yard.ground, yard.rain, &design);
  REQUIRE(run.warnings().size() == 1);
  CHECK_THAT(run.warnings()[0], ContainsSubstring("'ditch'") && ContainsSubstring("\"patio\""));
}
