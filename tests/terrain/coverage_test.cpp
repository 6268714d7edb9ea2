#include "catch.hpp"
#include "figures.hpp"

#include <algorithm>
#include <cmath>
#include <random>

#include <lowspot/terrain/coverage.hpp>

#include "yards.hpp"

using namespace lowspot;
using namespace lowspot::terrain;

namespace {
double covered(const Grid& grid, const Coverage& coverage) {
  double sum = 0;
  for (double fraction : coverage.fractions) sum += fraction;
  return sum * grid.cell_area();
}
double share_of(const Coverage& coverage, std::size_t cell) {
  for (std::size_t k = 0; k < coverage.cells.size(); ++k)
    if (coverage.cells[k] == static_cast<int>(cell)) return coverage.fractions[k];
  return 0;
}
Polygon turned(const Polygon& polygon, double angle, const Point& about) {
  Polygon result;
  for (const Point& p : polygon) {
    const double x = p.x - about.x, y = p.y - about.y;
    result.push_back({about.x + std::cos(angle) * x - std::sin(angle) * y,
                      about.y + std::sin(angle) * x + std::cos(angle) * y});
  }
  return result;
}
} // namespace

TEST_CASE("shares sum to the area of the outline, whatever its direction and place", "[coverage]") {
  const double origin = GENERATE(0.0, 84920.0);
  const Grid grid{90, 80, 0.152, origin, origin / 2};
  const Point middle{origin + 6.3, origin / 2 + 6.1};
  const Polygon l_shape = {{origin + 3, origin / 2 + 3},   {origin + 9, origin / 2 + 3},
                           {origin + 9, origin / 2 + 5.5}, {origin + 6, origin / 2 + 5.5},
                           {origin + 6, origin / 2 + 9},   {origin + 3, origin / 2 + 9}};
  for (double angle : {0.0, 0.1, 0.7853981633974483, 1.234, 3.0}) {
    const Polygon shape = turned(l_shape, angle, middle);
    CHECK_THAT(covered(grid, cover_cells(grid, shape)), WithinAbs(area(l_shape), 1e-9));
    figures::record("terrain", "outline turned and far from the origin", "area from shares of cells, m2",
                    area(l_shape), covered(grid, cover_cells(grid, shape)), figures::amount(1e-9));
    CHECK_THAT(covered(grid, visible_coverage(grid, {shape})[0]), WithinAbs(area(l_shape), 1e-9));
  }
}

TEST_CASE("a share that can be counted by hand", "[coverage]") {
  const Grid grid{4, 4, 1, 0, 0};
  const Coverage triangle = cover_cells(grid, {{0, 0}, {2, 0}, {0, 2}});
  CHECK_THAT(share_of(triangle, grid.index(0, 0)), WithinAbs(1, 1e-15));
  CHECK_THAT(share_of(triangle, grid.index(1, 0)), WithinAbs(0.5, 1e-15));
  CHECK_THAT(share_of(triangle, grid.index(0, 1)), WithinAbs(0.5, 1e-15));
  CHECK(triangle.cells.size() == 3);
  // A strip thinner than a cell, between all centres.
  CHECK_THAT(covered(grid, cover_cells(grid, rectangle(0.6, 0.6, 3.9, 0.7))), WithinAbs(0.33, 1e-14));
}

TEST_CASE("an outline wrapped around the grid covers it and what lies outside counts nothing", "[coverage]") {
  const Grid grid{5, 3, 2, 10, 20};
  const Coverage all = cover_cells(grid, rectangle(0, 0, 100, 100));
  CHECK(all.cells.size() == grid.cells());
  CHECK_THAT(covered(grid, all), WithinAbs(60, 1e-12));
  CHECK(cover_cells(grid, rectangle(-9, -9, -1, -1)).cells.empty());
  CHECK(cover_cells(grid, rectangle(50, 20, 60, 26)).cells.empty());
}

TEST_CASE("later outlines hide earlier ones exactly, also where several boundaries cut one cell",
          "[coverage]") {
  const Grid grid{20, 20, 0.5, 0, 0};
  SECTION("neighbours that share a boundary lose nothing to each other") {
    const auto visible = visible_coverage(grid, {rectangle(1, 1, 3.3, 6), rectangle(3.3, 1, 7, 6)});
    CHECK_THAT(covered(grid, visible[0]), WithinAbs(2.3 * 5, 1e-12));
    CHECK_THAT(covered(grid, visible[1]), WithinAbs(3.7 * 5, 1e-12));
  }
  SECTION("a piece inside another, both off the grid lines") {
    const auto visible =
        visible_coverage(grid, {rectangle(1.1, 1.1, 6.1, 6.1), rectangle(2.23, 2.34, 2.45, 2.48)});
    CHECK_THAT(covered(grid, visible[1]), WithinAbs(0.22 * 0.14, 1e-12));
    CHECK_THAT(covered(grid, visible[0]), WithinAbs(25 - 0.22 * 0.14, 1e-11));
  }
  SECTION("three that cross") {
    // By inclusion and exclusion with polygons whose overlaps are squares.
    const auto visible = visible_coverage(
        grid, {rectangle(1, 1, 5, 5), rectangle(3.1, 3.2, 7, 7), rectangle(4.3, 0.9, 4.6, 8)});
    CHECK_THAT(covered(grid, visible[2]), WithinAbs(0.3 * 7.1, 1e-12));
    CHECK_THAT(covered(grid, visible[1]), WithinAbs(3.9 * 3.8 - 0.3 * 3.8, 1e-11));
    CHECK_THAT(covered(grid, visible[0]), WithinAbs(16 - 1.9 * 1.8 - 0.3 * 4 + 0.3 * 1.8, 1e-11));
  }
  SECTION("one wholly hidden is gone") {
    const auto visible = visible_coverage(grid, {rectangle(2.1, 2.1, 3, 3), rectangle(2, 2, 4, 4)});
    CHECK(visible[0].cells.empty());
  }
}

TEST_CASE("what is seen of random outlines sums to their union", "[coverage]") {
  // The union of all is what a wrapped outline under them loses.
  std::mt19937 random(7);
  std::uniform_real_distribution<double> place(1.5, 8.5), size(0.2, 3), angle(0, 6.28);
  for (int trial = 0; trial < 20; ++trial) {
    const Grid grid{33, 31, 0.31, 0, 0};
    std::vector<Polygon> shapes = {rectangle(0, 0, 33 * 0.31, 31 * 0.31)};
    for (int k = 0; k < 6; ++k) {
      const Point p{place(random), place(random)};
      shapes.push_back(
          turned(rectangle(p.x, p.y, p.x + size(random) / 2, p.y + size(random) / 2), angle(random), p));
    }
    const auto visible = visible_coverage(grid, shapes);
    std::vector<double> sum(grid.cells(), 0);
    for (const Coverage& coverage : visible)
      for (std::size_t k = 0; k < coverage.cells.size(); ++k) {
        CHECK(coverage.fractions[k] > 0);
        sum[coverage.cells[k]] += coverage.fractions[k];
      }
    double worst = 0;
    for (double s : sum) worst = std::max(worst, std::abs(s - 1));
    CHECK(worst < 1e-11);
    CHECK_THAT(covered(grid, visible.back()),
               WithinAbs(covered(grid, cover_cells(grid, shapes.back())), 1e-11));
  }
}

TEST_CASE("inside and outside of an outline make up the grid", "[coverage]") {
  const Grid grid{9, 8, 0.7, 500000, 4000000};
  const Polygon outline = {{500000.3, 4000000.2},
                           {500004.1, 4000001},
                           {500006.2, 4000005.5},
                           {500003, 4000003.2},
                           {500000.9, 4000004.9}};
  for (const bool turned : {false, true}) {
    Polygon way_round = outline;
    if (turned) std::reverse(way_round.begin(), way_round.end());
    Field sum(grid.cells(), 0);
    for (const Polygon& polygon : {way_round, outside_of(way_round, grid)}) {
      const Coverage part = cover_cells(grid, polygon);
      for (std::size_t k = 0; k < part.cells.size(); ++k) sum[part.cells[k]] += part.fractions[k];
    }
    for (const double share : sum) CHECK_THAT(share, WithinAbs(1, 1e-9));
    const std::vector<Coverage> both = visible_coverage(grid, {way_round, outside_of(way_round, grid)});
    double inside = 0;
    for (const double share : both[0].fractions) inside += share * grid.cell_area();
    CHECK_THAT(inside, WithinAbs(area(outline), 1e-9));
  }
}
