#include "catch.hpp"

#include <cmath>
#include <numbers>

#include <lowspot/report/isolines.hpp>

using namespace lowspot;
using namespace lowspot::report;

namespace {
// Greatest distance of a line's points from a circle, with spacing `cell`.
double misfit(double cell, double* total = nullptr) {
  const int n = static_cast<int>(10 / cell);
  const Grid grid{n, n, cell, -5, -5};
  Field bowl(grid.cells());
  for (std::size_t k = 0; k < grid.cells(); ++k) {
    const double x = grid.x(grid.column(k)), y = grid.y(grid.row(k));
    bowl[k] = x * x + y * y;
  }
  const auto lines = isolines(bowl, Mask(grid.cells(), 1), grid, 9.0);
  REQUIRE(lines.size() == 1);
  CHECK(distance(lines[0].front(), lines[0].back()) == 0); // closed
  double worst = 0;
  for (const Point& p : lines[0]) worst = std::max(worst, std::abs(std::hypot(p.x, p.y) - 3));
  if (total != nullptr) *total = length(lines[0]);
  return worst;
}
} // namespace

TEST_CASE("a contour of a bowl is one closed line that tends to the circle with the square of the spacing") {
  const double coarse = misfit(0.5), fine = misfit(0.25), finest = misfit(0.125);
  CHECK(std::log2(coarse / fine) > 1.6);
  CHECK(std::log2(fine / finest) > 1.6);
  double total = 0;
  misfit(0.125, &total);
  CHECK(total == Approx(2 * std::numbers::pi * 3).epsilon(1e-2));
}

TEST_CASE(
    "a contour of a slope is one straight line from side to side, and stops at the limits of the yard") {
  const Grid grid{8, 6, 1, 0, 0};
  Field slope(grid.cells());
  for (std::size_t k = 0; k < grid.cells(); ++k) slope[k] = grid.x(grid.column(k));
  Mask active(grid.cells(), 1);
  auto lines = isolines(slope, active, grid, 3.2);
  REQUIRE(lines.size() == 1);
  CHECK(length(lines[0]) == Approx(5)); // between the outermost centres
  for (const Point& p : lines[0]) CHECK(p.x == Approx(3.2));
  active[grid.index(3, 3)] = 0;
  lines = isolines(slope, active, grid, 3.2);
  double total = 0;
  for (const auto& line : lines) total += length(line);
  CHECK(total == Approx(3));
}

TEST_CASE("a saddle gives two lines that do not cross") {
  const Grid grid{2, 2, 1, 0, 0};
  const auto lines = isolines({1, 0, 0, 1}, Mask(4, 1), grid, 0.4);
  CHECK(lines.size() == 2);
}

TEST_CASE("levels are round in the unit of the reader") {
  double step = 0;
  const auto levels = round_levels(30.48, 30.48 + 0.3048, 0.3048, 9, &step); // 100 to 101 ft
  CHECK(step == Approx(0.2 * 0.3048));
  CHECK(levels.size() == 6);
  CHECK(levels[1] == Approx(100.2 * 0.3048));
  CHECK(round_levels(5, 5, 1, 9).empty());
}
