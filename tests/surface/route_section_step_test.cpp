#include "catch.hpp"

#include <cmath>
#include <vector>

#include <lowspot/surface/route_section_step.hpp>
#include <lowspot/surface/route_sections.hpp>

#include "section_ground.hpp"

using namespace lowspot::surface;
using namespace yards;

TEST_CASE("a section has one level and loses what it does not hold", "[route_section_step]") {
  for (const double mobile : {1e-4, 0.01, 0.3, 5.0})
    for (const double own : {0.0, 0.3, 1.0})
      for (const double guess : {-1.0, 0.0, 0.05, 9.0}) {
        std::vector<SectionCell> cells;
        for (int k = 0; k < 7; ++k)
          cells.push_back({0.0125 * std::abs(k - 3), 40, own, own > 0 ? 0.001 : 1.0});
        const double level = balance_section(cells, mobile, guess);
        CAPTURE(mobile, own, guess, level);
        double sum = 0, held = 0;
        for (const SectionCell& one : cells) {
          const double h = std::max(level - one.bed, 0.0);
          CHECK_THAT(one.depth, WithinAbs(h, 1e-12));
          const double law = 40 * std::pow(h, 5.0 / 3.0) * std::sqrt(own * h + one.drop);
          CHECK_THAT(one.leaves, WithinAbs(law, 1e-4 * mobile));
          sum += one.depth + one.leaves;
          held += one.depth;
        }
        CHECK(held <= mobile);
        CHECK_THAT(sum, WithinRel(mobile, 1e-14));
      }
}

TEST_CASE("cells without a way on only level out", "[route_section_step]") {
  std::vector<SectionCell> cells = {{0, 0, 0, 1}, {0.1, 0, 0, 1}, {0.5, 0, 0, 1}};
  CHECK_THAT(balance_section(cells, 0.3, 0), WithinAbs(0.2, 1e-9));
  CHECK_THAT(cells[0].depth + cells[1].depth, WithinRel(0.3, 1e-14));
  CHECK(cells[2].depth == 0);
}

// One cell is given all the water: it goes across, and the faces between say how much.
TEST_CASE("what a section shares out crosses the faces between its cells", "[route_section_step]") {
  Terrain terrain = rectangle(
      12, 7, 0.25, 0.15, [](double x, double y) { return 10 - 0.005 * x + 0.05 * std::abs(y - 3.5 * 0.25); });
  open_side(terrain, 1);
  lowspot::surface::Options options;
  options.method = Method::routed;
  Run run(std::move(terrain), options);
  const auto& grid = run.flow.terrain().grid;
  run.supply[grid.index(0, 3)] = 0.01 / grid.cell_area();
  while (run.time < 1800) run.advance(20);
  const lowspot::Field before(run.flow.depth().begin(), run.flow.depth().end());
  run.advance(20);
  CHECK_THAT(run.misfit(), WithinAbs(0, 1e-12 * run.supplied));
  const auto x = run.flow.discharge_x(), y = run.flow.discharge_y();
  for (int j = 0; j < grid.ny; ++j)
    for (int i = 0; i < grid.nx; ++i) {
      const std::size_t c = grid.index(i, j);
      const double in =
          20 / grid.cell *
          (x[grid.x_face(i, j)] - x[grid.x_face(i + 1, j)] + y[grid.y_face(i, j)] - y[grid.y_face(i, j + 1)]);
      CHECK_THAT(before[c] + run.supply[c] * 20 + in, WithinAbs(run.flow.depth()[c], 1e-5));
    }
  // Water has risen over the sides.
  CHECK(y[grid.y_face(2, 3)] < 0);
  CHECK_THAT(y[grid.y_face(2, 4)], WithinRel(-y[grid.y_face(2, 3)], 1e-4));
}

// More comes to a section after it has passed on what it had, and now reaches cells with hollows to fill.
TEST_CASE("what has left a section does not come back", "[route_section_step]") {
  const double more = GENERATE(0.02, 0.035, 0.04, 0.045, 0.05, 0.07);
  Terrain terrain = rectangle(20, 11, 0.25, 0.05, [](double x, double y) {
    return 10 - 0.005 * x + 0.0002 * std::abs(y - 5.5 * 0.25);
  });
  for (std::size_t c = 0; c < terrain.grid.cells(); ++c) terrain.depression_storage[c] = 0.006;
  open_side(terrain, 1);
  section_ground::Ground ground(std::move(terrain));
  ground.fill(0.03, 0.005, 0.006);
  ground.find();
  RouteSections& all = ground.slopes.sections;
  const int number = ground.section(10, 5);
  REQUIRE(number >= 0);
  RouteSection& section = all.sections[number];
  REQUIRE(section.end - section.begin >= 5);
  const int channel = all.nodes[all.order[section.end - 1]];
  const auto sum = [&] {
    double held = 0;
    for (int k = section.begin; k < section.end; ++k) held += ground.water.depth[all.nodes[all.order[k]]];
    return held;
  };
  for (int k = section.begin; k < section.end; ++k) {
    const int s = all.nodes[all.order[k]];
    ground.water.depth[s] = s == channel ? 0.006 + 0.03 : 0;
    ground.water.inflow[s] = ground.water.supply[s] = ground.water.sink[s] = ground.water.done[s] = 0;
  }
  RoutedFaces faces(ground.graph, ground.terrain.open_faces.size());
  SectionStep step{60, ground.graph, ground.pools, ground.water, ground.slopes, faces};
  begin_sections(step, false);
  section.turns = 0;
  step_section(step, section);
  const double left = 0.036 - sum();
  REQUIRE(left > 0.015);
  ground.water.inflow[channel] = more; // what the other cells lack is 0.06 m
  step_section(step, section);
  double leaves = 0;
  for (int k = section.begin; k < section.end; ++k)
    leaves += 60 * static_cast<double>(ground.slopes.outflow[all.nodes[all.order[k]]]);
  CAPTURE(more, left, leaves);
  CHECK(leaves > left - 1e-7);
  CHECK_THAT(sum() + leaves, WithinAbs(0.036 + more, 1e-7));
  for (int k = section.begin; k < section.end; ++k) {
    CAPTURE(k);
    CHECK(ground.water.depth[all.nodes[all.order[k]]] >= 0);
  }
}

TEST_CASE("what cells without a way pass on goes by their carriers, and late water adds to it",
          "[route_section_step]") {
  section_ground::Ground ground = section_ground::aslant();
  ground.fill(0.05, 0.005, 0);
  ground.find();
  RouteSections& all = ground.slopes.sections;
  RoutedFaces faces(ground.graph, ground.terrain.open_faces.size());
  SectionStep step{60, ground.graph, ground.pools, ground.water, ground.slopes, faces};
  begin_sections(step, false);
  int carried = 0;
  for (RouteSection& section : all.sections) {
    const auto total = [&] {
      double sum = 0;
      for (int k = section.begin; k < section.end; ++k)
        sum += ground.water.depth[all.nodes[all.order[k]]] + all.handed[all.order[k]];
      return sum;
    };
    for (int k = section.begin; k < section.end; ++k) ground.water.inflow[all.nodes[all.order[k]]] = 0;
    double there = total();
    for (const double late : {0.0, 0.01, 0.2}) {
      const int lowest = all.nodes[all.order[section.end - 1]];
      ground.water.inflow[lowest] = late;
      there += late;
      const double before = all.handed[all.order[section.end - 1]];
      step_section(step, section);
      CAPTURE(late);
      CHECK_THAT(total(), WithinAbs(there, 1e-9));
      CHECK(all.handed[all.order[section.end - 1]] >= before);
      // It lies level again.
      for (int k = section.begin; k < section.end; ++k) {
        const int n = all.order[k], s = all.nodes[n];
        if (ground.water.depth[s] > 1e-6)
          CHECK_THAT(ground.graph.bed[s] + ground.water.depth[s], WithinAbs(section.level, 1e-6));
        if (all.carrier[n] == n) continue;
        ++carried;
        CHECK(all.handed[n] == 0);
        CHECK(all.handed[all.carrier[n]] >
              60 * static_cast<double>(ground.slopes.outflow[all.nodes[all.carrier[n]]]) * section.aslant);
      }
    }
  }
  CHECK(carried > 60);
}
