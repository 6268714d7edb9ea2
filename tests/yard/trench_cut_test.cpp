#include <optional>
#include <set>

#include "catch.hpp"
#include "figures.hpp"
#include "simple_yard.hpp"

#include <lowspot/yard/drain_layout.hpp>
#include <lowspot/yard/setup.hpp>
#include <lowspot/yard/trench_cut.hpp>
#include <lowspot/yard/yard.hpp>

using namespace lowspot;

namespace {
// Stations of a drain of 0.3 m along `path`, its trench `depth` deep, on level ground at 10 m.
struct Dug {
  drain::Layout layout;
  std::optional<drain::Drain> drain;
};
Dug dig(const SimpleYard& yard, const Polyline& path, double depth) {
  site::Design design = simple_drain(yard, depth);
  design.runs[0].path = path;
  design.runs[0].fall = 0;
  design.outlets[0].at = path.back();
  const auto flat = [](Point) { return 10.0; };
  Dug dug{yard::resolve_drain(yard.site, design, flat).layout, {}};
  dug.drain.emplace(dug.layout, flat);
  return dug;
}

// Parts into which cuts divide the grid.
int parts(const Grid& grid, const std::vector<perched::ClosedFace>& cuts) {
  std::set<std::pair<int, int>> closed; // the lower cell first
  for (const perched::ClosedFace& face : cuts)
    closed.insert({std::min(face.cell, face.neighbour), std::max(face.cell, face.neighbour)});
  std::vector<int> part(grid.cells(), -1);
  int found = 0;
  for (std::size_t first = 0; first < part.size(); ++first) {
    if (part[first] >= 0) continue;
    std::vector<int> open{static_cast<int>(first)};
    part[first] = found;
    while (!open.empty()) {
      const int cell = open.back();
      open.pop_back();
      for (const auto& [i, j] : {std::pair{1, 0}, {-1, 0}, {0, 1}, {0, -1}}) {
        const int column = grid.column(cell) + i, row = grid.row(cell) + j;
        if (!grid.inside(column, row)) continue;
        const int next = static_cast<int>(grid.index(column, row));
        if (part[next] >= 0 || closed.count({std::min(cell, next), std::max(cell, next)})) continue;
        part[next] = found;
        open.push_back(next);
      }
    }
    ++found;
  }
  return found;
}
} // namespace

TEST_CASE(
    "a trench right across, down to the tight layer, parts the soil at any angle; a shallow one does not") {
  const SimpleYard yard = simple_yard(24, 20, 0.5, [](double, double) { return 10.0; }); // soil of 0.3 m
  const perched::Layer layer = yard::make_perched_layer(yard.site, yard.ground);
  const std::vector<Polyline> paths = {{{0, 5.1}, {12, 5.1}},
                                       {{0, 1.3}, {12, 8.9}},
                                       {{3.3, 0}, {3.3, 10}},
                                       {{0, 2}, {5, 4.4}, {8, 4.4}, {12, 9}}};
  for (const Polyline& path : paths) {
    const Dug deep = dig(yard, path, 0.35), shallow = dig(yard, path, 0.25);
    CHECK(parts(yard.ground.grid,
                yard::find_cut_faces(yard.ground, deep.drain->stations(), deep.layout, layer)) == 2);
    CHECK(yard::find_cut_faces(yard.ground, shallow.drain->stations(), shallow.layout, layer).empty());
  }
}

TEST_CASE("along the middles of cells a trench cuts on both sides, and not itself") {
  const SimpleYard yard = simple_yard(24, 20, 0.5, [](double, double) { return 10.0; });
  const perched::Layer layer = yard::make_perched_layer(yard.site, yard.ground);
  const Dug dug = dig(yard, {{0, 5.25}, {12, 5.25}}, 0.35);
  const auto cuts = yard::find_cut_faces(yard.ground, dug.drain->stations(), dug.layout, layer);
  CHECK(parts(yard.ground.grid, cuts) == 3);
  for (const perched::ClosedFace& face : cuts)
    CHECK(yard.ground.grid.row(face.cell) != yard.ground.grid.row(face.neighbour));
}

// Exact: all that comes down the slope falls into the trench, and below it the soil is dry.
TEST_CASE("a curtain drain down to the tight layer catches all, whatever the cells") {
  for (const double cell : {1.0, 0.5, 0.25})
    for (const double flow : {1e-6, 1e-7}) { // m2/s: 0.2 and 0.02 m of water at a conductivity of 1e-4 m/s
      const int nx = static_cast<int>(12 / cell), ny = 3;
      SimpleYard yard = simple_yard(nx, ny, cell, [](double x, double) { return 10 - 0.05 * x; });
      make_pervious(yard);
      open_side(yard, terrain::Side::east);
      site::Soil& soil = yard.site.soils[0];
      soil.depth = {0.5, 0.5, 0.5};
      soil.conductivity = {1e-4, 1e-4, 1e-4};
      const double breadth = ny * cell;
      site::EdgeSeep seep;
      seep.along = {{0, 0}, {0, breadth}};
      seep.time = {0};
      seep.flow = {flow * breadth};
      yard.site.edges.seeps = {seep};
      yard.site.storm.dry = 100 * 86400.0;
      site::Design design = simple_drain(yard, 0.7);
      design.runs[0].path = {{8.1, breadth}, {8.1, 0}};
      design.outlets[0].at = {8.1, 0};
      yard::Yard run(yard.site, yard.ground, yard.rain, &design);
      run.advance(30 * 86400.0);
      const double before = run.ledger().balance(Store::drains);
      run.advance(40 * 86400.0);
      const double caught = (run.ledger().balance(Store::drains) - before) / (10 * 86400.0);
      CHECK_THAT(caught, WithinRel(flow * breadth, 0.005));
      CHECK(run.saturated()[run.ground().grid.index(nx - 1, 1)] < 1e-4);
      figures::record("yard", "curtain drain down to the tight layer", "caught of what comes", 1.0,
                      caught / (flow * breadth), figures::share(0.005));
    }
}
