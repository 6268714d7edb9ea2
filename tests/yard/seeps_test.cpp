#include "catch.hpp"
#include "figures.hpp"
#include "simple_yard.hpp"
#include "turned_yard.hpp"

#include <tuple>

#include <lowspot/base/error.hpp>
#include <lowspot/perched/solver.hpp>
#include <lowspot/yard/seeps.hpp>
#include <lowspot/yard/setup.hpp>
#include <lowspot/yard/yard.hpp>

using namespace lowspot;

namespace {
site::EdgeSeep steady(Polyline along, double flow) {
  site::EdgeSeep seep;
  seep.along = std::move(along);
  seep.time = {0};
  seep.flow = {flow};
  return seep;
}
} // namespace

TEST_CASE("a line along one side takes the faces of that side alone") {
  const SimpleYard yard = simple_yard(6, 4, 0.5, [](double, double) { return 1.0; });
  const auto faces = yard::faces_along(yard.site, yard.ground, {{0, 2}, {3, 2}}, "edges.seep");
  REQUIRE(faces.size() == 6);
  for (const std::size_t f : faces) CHECK(yard.ground.edges[f].side == terrain::Side::north);
  CHECK(yard::faces_along(yard.site, yard.ground, {{0, 2}, {1, 2}}, "edges.seep").size() == 2);
  CHECK_THROWS_AS(yard::faces_along(yard.site, yard.ground, {{1, 1}, {2, 1}}, "edges.seep"), InputError);
}

// What a uniform flow at right angles to the limit would pass through the faces, over the flow by the line:
// the stairs of a slanting limit make up its length to half a stair at 45 degrees.
TEST_CASE("a line along a turned limit takes as much of its stairs as it is long, at any angle") {
  for (const double degrees : {0, 1, 2, 3, 5, 7, 10, 15, 22, 30, 37, 45, 60, 75, 85, 89})
    for (const double cell : {0.25, 0.1}) {
      const TurnedYard turned = turned_yard(12, 8, degrees, cell, [](double, double) { return 1.0; });
      const SimpleYard& yard = turned.yard;
      double passed = 0; // through the western limit, which looks west at no turn
      for (const std::size_t f : yard::faces_along(yard.site, yard.ground,
                                                   {turned.on_map(0, 1), turned.on_map(0, 7)}, "edges.seep"))
        switch (yard.ground.edges[f].side) {
        case terrain::Side::west:
          passed += cell * turned.cosine;
          break;
        case terrain::Side::east:
          passed -= cell * turned.cosine;
          break;
        case terrain::Side::south:
          passed += cell * turned.sine;
          break;
        default:
          passed -= cell * turned.sine;
        }
      CAPTURE(degrees, cell);
      CHECK_THAT(passed, WithinAbs(6.0, 0.71 * cell));
    }
}

TEST_CASE(
    "a seep of known flow rises in the ground, is booked as inflow, and comes out where the soil is full") {
  SimpleYard yard = simple_yard(20, 2, 0.5, [](double x, double) { return 2 - 0.08 * x; });
  make_pervious(yard);
  open_side(yard, terrain::Side::east);
  yard.site.edges.underground = site::EdgeKind::wall;
  yard.site.soils[0].conductivity = {3e-5, 3e-5, 3e-5};
  yard.site.soils[0].initial_moisture =
      0.35; // porosity less drainable porosity: what falls dry stays that moist
  yard.site.soils[0].field_capacity = 0.35;
  yard.site.edges.seeps = {steady({{0, 0}, {0, 1}}, 5e-7)};
  yard::Yard run(yard.site, yard.ground, yard.rain, nullptr);
  const double start = run.stored(Store::perched) + run.stored(Store::soil);
  run.advance(86400);
  const double given = run.ledger().moved(Store::inflow, Store::perched);
  CHECK_THAT(given, WithinRel(5e-7 * 86400, 1e-2)); // the last minutes may still be on their way
  CHECK_THAT(run.stored(Store::perched) + run.stored(Store::soil) - start +
                 run.ledger().received(Store::edges) + run.stored(Store::surface),
             WithinRel(given, 1e-9));
  CHECK(std::abs(run.closure()) < 1e-12);
  run.advance(20 * 86400.0); // by now the toe is full: what comes in runs off over the ground
  const double before = run.ledger().received(Store::edges);
  run.advance(22 * 86400.0);
  CHECK_THAT(run.ledger().received(Store::edges) - before, WithinRel(5e-7 * 2 * 86400, 0.02));
  figures::record("yard", "seep into a full slope", "runs off in two days, m3", 5e-7 * 2 * 86400,
                  run.ledger().received(Store::edges) - before, figures::share(0.02));
}

TEST_CASE("a hillside saturated above passes K H S through an open toe") {
  SimpleYard yard = simple_yard(16, 2, 0.5, [](double x, double) { return 2 - 0.1 * x; });
  make_pervious(yard);
  open_side(yard, terrain::Side::east);
  yard.site.soils[0].conductivity = {1e-4, 1e-4, 1e-4};
  yard.site.soils[0].initial_moisture = yard.site.soils[0].field_capacity = 0.35;
  site::EdgeSeep seep;
  seep.along = {{0, 0}, {0, 1}};
  seep.saturated = 0.12;
  yard.site.edges.seeps = {seep};
  yard::Yard run(yard.site, yard.ground, yard.rain, nullptr);
  run.advance(10 * 86400.0);
  const double before = run.ledger().moved(Store::perched, Store::edges);
  run.advance(11 * 86400.0);
  const double passed = 1e-4 * 0.12 * 0.1 * 1.0 * 86400; // over 1 m of width
  CHECK_THAT(run.ledger().moved(Store::perched, Store::edges) - before, WithinRel(passed, 1e-3));
  figures::record("yard", "hillside saturated above, open toe", "passes in a day (K H S), m3", passed,
                  run.ledger().moved(Store::perched, Store::edges) - before, figures::share(1e-3));
  for (const double h : run.saturated()) CHECK_THAT(h, WithinRel(0.12, 1e-3));
  CHECK(std::abs(run.closure()) < 1e-12);
}

TEST_CASE("a seep that changes is followed to the second") {
  yard::Seep seep{{0}, {100, 200}, {1, 3}, 0};
  CHECK(yard::flow_at(seep, 50) == 0);
  CHECK(yard::flow_at(seep, 100) == 1);
  CHECK(yard::flow_at(seep, 250) == 3);
  CHECK(yard::next_change(seep, 50) == 100);
  CHECK(yard::next_change(seep, 150) == 200);
  CHECK(std::isinf(yard::next_change(seep, 200)));
}

TEST_CASE("two hillside seeps that share a face give its water once, that of the thicker") {
  SimpleYard yard = simple_yard(6, 4, 0.5, [](double, double) { return 1.0; });
  make_pervious(yard);
  for (const auto& [from, to, saturated] : {std::tuple{0.0, 2.0, 0.05}, std::tuple{1.0, 3.0, 0.08}}) {
    site::EdgeSeep seep;
    seep.along = {{from, 2}, {to, 2}};
    seep.saturated = saturated;
    yard.site.edges.seeps.push_back(seep);
  }
  const std::vector<perched::InflowFace> faces = yard::upslope_faces(yard.site, yard.ground);
  REQUIRE(faces.size() == 6);
  for (const perched::InflowFace& face : faces)
    CHECK(face.saturated == (yard.ground.grid.x(yard.ground.grid.column(face.cell)) < 1 ? 0.05 : 0.08));
  CHECK_NOTHROW(perched::Solver(yard::make_perched_layer(yard.site, yard.ground)));
}
