#include "catch.hpp"
#include "simple_yard.hpp"

#include <lowspot/yard/setup.hpp>
#include <lowspot/yard/yard.hpp>

using namespace lowspot;
using Catch::Matchers::WithinRel;

// Fabric and soil in series between the table and the stone: each loses head as its share of the resistance,
// (permittivity / clogging) for the one, K over the distance for the other.
TEST_CASE("clogged fabric is said to hold back its share of the head, no more") {
  for (const double clogging : {100.0, 1000.0, 10000.0}) {
    SimpleYard yard = simple_yard(24, 13, 0.25, [](double, double) { return 10.0; });
    make_pervious(yard);
    site::Soil& soil = yard.site.soils[0];
    soil.depth = {0.45, 0.45, 0.45};
    soil.conductivity = {1e-4, 1e-4, 1e-4};
    soil.drainable_porosity = {0.1, 0.1, 0.1};
    soil.perched_start = 0.3;
    site::Design design = simple_drain(yard);
    design.runs[0].fabric = {"cloth", 1.0, clogging};
    design.runs[0].cap = {"lid", 1e-15, 0.1};
    yard::Yard run(yard.site, yard.ground, yard.rain, &design);
    for (int k = 1; k <= 60; ++k) run.advance(10.0 * k); // in steps so short that levels hardly change in one
    const std::span<const double> level = run.drain()->stone_level();
    // By the laws of both, in the mean over the wet part of the fabric of a station [m].
    std::vector<double> drop(level.size(), 0.0), wet(level.size(), 0.0);
    for (const yard::WallContact& wall : run.walls()) {
      const double tight = run.ground().elevation[wall.cell] - 0.45;
      const double inside = std::max(level[wall.station] - tight, 0.0), table = run.saturated()[wall.cell];
      const double through_soil = 1e-4 / wall.distance, through_fabric = wall.fabric / wall.share / clogging;
      const double area = wall.fabric * (table + inside) / 2;
      drop[wall.station] += area * (table - inside) * through_soil / (through_soil + through_fabric);
      wet[wall.station] += area;
    }
    double most = 0;
    for (std::size_t s = 0; s < drop.size(); ++s) most = std::max(most, drop[s] / wet[s]);
    CAPTURE(clogging, most);
    CHECK(most > 0.005);
    CHECK_THAT(run.drain()->run_state(0).losses.fabric, WithinRel(most, 0.01));
  }
}

// What the lower wall takes back passes no fabric on its way in.
TEST_CASE("a drain across a slope is told the head that all its water from uphill loses, whatever goes on "
          "downhill") {
  SimpleYard yard = simple_yard(24, 13, 0.25, [](double, double y) { return 10.0 + 0.1 * y; });
  make_pervious(yard);
  site::Soil& soil = yard.site.soils[0];
  soil.depth = {0.45, 0.45, 0.45};
  soil.conductivity = {1e-4, 1e-4, 1e-4};
  soil.drainable_porosity = {0.1, 0.1, 0.1};
  soil.perched_start = 0.3;
  site::Design design = simple_drain(yard);
  design.runs[0].fabric = {"cloth", 1.0, 1000};
  design.runs[0].cap = {"lid", 0, 0.1};
  design.runs[0].fall = 0.001;
  design.runs[0].stone = {"stone", 0.1, 0.1, 0};
  design.outlets[0].kind = "submerged"; // nothing leaves: the stone fills until as much goes on as comes
  design.outlets[0].level = 12;
  yard::Yard run(yard.site, yard.ground, yard.rain, &design);
  for (int k = 1; k <= 600; ++k) run.advance(10.0 * k);
  const std::span<const double> level = run.drain()->stone_level();
  std::vector<double> drop(level.size(), 0.0), wet(level.size(), 0.0), back(level.size(), 0.0);
  for (const yard::WallContact& wall : run.walls()) {
    const double tight = run.ground().elevation[wall.cell] - 0.45;
    const double inside = std::max(level[wall.station] - tight, 0.0), table = run.saturated()[wall.cell];
    const double through_soil = 1e-4 / wall.distance, through_fabric = wall.fabric / wall.share / 1000;
    const double area = wall.fabric * (table + inside) / 2;
    const double passing = area * (table - inside) * through_soil / (through_soil + through_fabric);
    if (table > inside)
      drop[wall.station] += passing, wet[wall.station] += area;
    else
      back[wall.station] -= passing;
  }
  double most = 0, taken = 0;
  for (std::size_t s = 0; s < drop.size(); ++s)
    if (wet[s] > 0 && drop[s] / wet[s] > most) most = drop[s] / wet[s], taken = back[s] / drop[s];
  CAPTURE(most, taken);
  CHECK(most > 0.002);
  CHECK(taken > 0.3); // the net of the two would show as much less
  CHECK_THAT(run.drain()->run_state(0).losses.fabric, WithinRel(most, 0.02));
  CHECK(std::abs(run.closure()) < 1e-9);
}

// Water on it loses 1.05 times the reference rate, and that is all: wet soil alone would lose 1.20 times it.
TEST_CASE("bare ground gives nothing to the air while water stands on it") {
  SimpleYard yard = simple_yard(4, 4, 1, [](double, double) { return 10.0; });
  make_pervious(yard);
  yard.site.lawn.crop_coefficient = 0;
  yard.site.lawn.soil_evaporation = 1;
  yard.site.soils[0].perched_start = 0.3; // full to the ground over a layer that lets nothing through
  yard.site.storm.reference_et = 5e-3 / 86400;
  rain_at(yard, 10e-3 / 600, 600);
  yard::Yard run(yard.site, yard.ground, yard.rain, nullptr);
  run.advance(600);
  const double before = run.ledger().received(Store::evapotranspiration);
  run.advance(600 + 86400);
  REQUIRE(run.depth()[0] > 1e-3);
  const double lost = (run.ledger().received(Store::evapotranspiration) - before) / 16;
  CHECK_THAT(lost, WithinRel(1.05 * 5e-3, 1e-3));
  // Once it is gone the soil gives what bare soil gives.
  run.advance(600 + 2 * 86400);
  REQUIRE(run.depth()[0] < 1e-9);
  const double dry = run.ledger().received(Store::evapotranspiration);
  run.advance(600 + 2.5 * 86400);
  CHECK_THAT((run.ledger().received(Store::evapotranspiration) - dry) / 16, WithinRel(1.20 * 2.5e-3, 1e-3));
}

// Fed from a roof, the stone fills until the soil takes as much as comes: by hand, at unit gradient through
// what is wet of bottom and walls, K (w + 2 h) a metre. The table far below draws no more through a wall that
// is hardly wet, and how much does not hang on the cells.
TEST_CASE("a trench far above the table fills until what is wet of it passes on what comes") {
  constexpr double conductivity = 2e-5 / 3.6, wetted_height = 0.35, trench_length = 9.6;
  for (const double cell : {0.25, 0.5}) {
    SimpleYard yard = simple_yard(static_cast<int>(12 / cell), static_cast<int>(6 / cell), cell,
                                  [](double, double) { return 10.0; });
    site::Soil& soil = yard.site.soils[0];
    soil.depth = {1.5, 1.5, 1.5};
    soil.conductivity = {conductivity, conductivity, conductivity};
    soil.tight_conductivity = {0.75 * conductivity, 0.75 * conductivity, 0.75 * conductivity};
    site::Design design = simple_drain(yard, 0.5);
    design.runs[0].fall = 0;
    design.runs[0].cap = {"lid", 0, 0.1};
    design.outlets[0].kind = "pop-up"; // and holds all of it back: its lid lies at the ground
    design.outlets[0].opening_head = 0.02;
    site::Building house;
    house.name = "house";
    house.downspouts = {{"spout", {6, 3}, 100.0, "run"}};
    yard.site.buildings = {house};
    yard.ground.buildings.emplace_back();
    open_side(yard, terrain::Side::east);
    rain_at(yard, conductivity * (0.3 + 2 * wetted_height) * trench_length / 100, 48 * 3600);
    yard::Yard run(yard.site, yard.ground, yard.rain, &design);
    run.advance(24 * 3600);
    CAPTURE(cell);
    for (const double level : run.drain()->stone_level())
      CHECK_THAT(level - 9.5, WithinRel(wetted_height, 0.02));
    CHECK(run.ledger().received(Store::drains) == 0);
    CHECK(std::abs(run.closure()) < 1e-9);
  }
}
