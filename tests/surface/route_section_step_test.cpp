#include "catch.hpp"

#include <cmath>
#include <vector>

#include <lowspot/surface/route_section_step.hpp>
#include <lowspot/surface/route_sections.hpp>

#include "yards.hpp"

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
