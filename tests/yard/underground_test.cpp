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
    run.advance(60); // the table is still level
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
    CHECK_THAT(run.drain()->run_state(0).losses.fabric, WithinRel(most, 0.05));
  }
}
