#include "catch.hpp"

#include <cmath>
#include <random>
#include <vector>

#include <lowspot/yard/crossing.hpp>

using namespace lowspot;

namespace {

// Discharge on all faces [m2/s].
struct Discharge {
  std::vector<double> x, y;
};

double crossing(const Grid& grid, const Mask& active, const Polyline& line, const Discharge& discharge) {
  const surface::FaceSet faces = yard::faces_crossed(grid, active, line);
  double sum = 0;
  for (std::size_t k = 0; k < faces.x_faces.size(); ++k)
    sum += faces.x_weights[k] * discharge.x[static_cast<std::size_t>(faces.x_faces[k])] * grid.cell;
  for (std::size_t k = 0; k < faces.y_faces.size(); ++k)
    sum += faces.y_weights[k] * discharge.y[static_cast<std::size_t>(faces.y_faces[k])] * grid.cell;
  return sum;
}

// Flow to the east by ax + bx x, to the north by ay + by y.
Discharge even_flow(const Grid& grid, double ax, double bx, double ay, double by) {
  Discharge discharge{std::vector<double>(grid.x_faces()), std::vector<double>(grid.y_faces())};
  for (int j = 0; j < grid.ny; ++j)
    for (int i = 0; i <= grid.nx; ++i) discharge.x[grid.x_face(i, j)] = ax + bx * (grid.x0 + i * grid.cell);
  for (int j = 0; j <= grid.ny; ++j)
    for (int i = 0; i < grid.nx; ++i) discharge.y[grid.y_face(i, j)] = ay + by * (grid.y0 + j * grid.cell);
  return discharge;
}

} // namespace

TEST_CASE("a line along the cells counts one face a cell, flow to its right positive") {
  const Grid grid{10, 6, 0.5, 0, 0};
  const Mask active(grid.cells(), 1);
  const surface::FaceSet north = yard::faces_crossed(grid, active, {{2.0, 0.0}, {2.0, 3.0}});
  REQUIRE(north.x_faces.size() == 6);
  CHECK(north.y_faces.empty());
  for (std::size_t k = 0; k < 6; ++k) {
    CHECK(north.x_faces[k] == static_cast<int>(grid.x_face(4, static_cast<int>(k))));
    CHECK(north.x_weights[k] == Approx(1)); // going north, east is to the right
  }
  const surface::FaceSet east = yard::faces_crossed(grid, active, {{0.0, 1.0}, {5.0, 1.0}});
  REQUIRE(east.y_faces.size() == 10);
  for (const double weight : east.y_weights) CHECK(weight == Approx(-1)); // going east, south is to the right
}

TEST_CASE("a line counts its own length of even flow, wherever its ends lie in their cells") {
  const Grid grid{20, 20, 0.5, 1, 2};
  const Mask active(grid.cells(), 1);
  const Discharge discharge = even_flow(grid, 0.003, 0, -0.002, 0);
  for (const Polyline& line : std::vector<Polyline>{{{2, 4.25}, {3.25, 4.25}},
                                                    {{2.1, 4.3}, {2.2, 4.31}},
                                                    {{3.3, 2.9}, {3.3, 7.77}},
                                                    {{1.6, 2.2}, {9.9, 11.3}, {4.4, 6.1}, {4.45, 9.2}}}) {
    double exact = 0;
    for (std::size_t k = 1; k < line.size(); ++k)
      exact += 0.003 * (line[k].y - line[k - 1].y) + 0.002 * (line[k].x - line[k - 1].x);
    CHECK(crossing(grid, active, line, discharge) == Approx(exact).epsilon(1e-9));
  }
}

TEST_CASE("flow that grows evenly down a slope is counted where the line lies, not at the next face") {
  const Grid grid{10, 10, 1, 0, 0};
  const Mask active(grid.cells(), 1);
  const Discharge discharge = even_flow(grid, 0, 1e-5, 0, -2e-5); // rain on ground that falls both ways
  CHECK(crossing(grid, active, {{3.3, 0.7}, {3.3, 5.1}}, discharge) == Approx(1e-5 * 3.3 * 4.4));
  CHECK(crossing(grid, active, {{1.5, 6.5}, {8.2, 6.5}}, discharge) == Approx(2e-5 * 6.5 * 6.7));
}

TEST_CASE("over a closed line goes what the ground within sheds, whatever way the water takes") {
  const Grid grid{12, 9, 0.7, 0, 0};
  const Mask active(grid.cells(), 1);
  std::mt19937 random(7);
  std::uniform_real_distribution<double> any(-1, 1);
  Discharge discharge = even_flow(grid, 0, 0, 0, 0);
  for (double& q : discharge.x) q = any(random);
  for (double& q : discharge.y) q = any(random);
  const double west = 1.13, east = 6.02, south = 0.61, north = 4.9;
  double shed = 0; // cells by the part of them that lies within
  for (int j = 0; j < grid.ny; ++j)
    for (int i = 0; i < grid.nx; ++i) {
      const double wide = std::min(east, (i + 1) * grid.cell) - std::max(west, i * grid.cell);
      const double high = std::min(north, (j + 1) * grid.cell) - std::max(south, j * grid.cell);
      if (wide <= 0 || high <= 0) continue;
      shed += (discharge.x[grid.x_face(i + 1, j)] - discharge.x[grid.x_face(i, j)] +
               discharge.y[grid.y_face(i, j + 1)] - discharge.y[grid.y_face(i, j)]) /
              grid.cell * wide * high;
    }
  const Polyline round{{west, south}, {east, south}, {east, north}, {west, north}, {west, south}};
  CHECK(crossing(grid, active, round, discharge) == Approx(shed).epsilon(1e-9));
}

TEST_CASE("a line on the limit counts all that leaves there, on stairs too") {
  const Grid grid{10, 10, 1, 0, 0};
  Mask active(grid.cells(), 0); // south-east of the diagonal
  for (int j = 0; j < 10; ++j)
    for (int i = 0; i < 10; ++i) active[grid.index(i, j)] = i >= j ? 1 : 0;
  const auto in = [&](int i, int j) { return grid.inside(i, j) && active[grid.index(i, j)] != 0; };
  Discharge discharge = even_flow(grid, 0, 0, 0, 0);
  for (int j = 0; j < 10; ++j) // to the north-west, none beyond the stairs
    for (int i = 0; i < 10; ++i) {
      if (in(i, j) || in(i - 1, j)) discharge.x[grid.x_face(i, j)] = -0.001;
      if (in(i, j) || in(i, j - 1)) discharge.y[grid.y_face(i, j)] = 0.001;
    }
  CHECK(crossing(grid, active, {{2, 2}, {8, 8}}, discharge) == Approx(-0.012));
  const Polyline outside{{1.5, 2.5}, {7.5, 8.5}}; // half a cell beyond the limit: nothing is lost on the way
  CHECK(crossing(grid, active, outside, discharge) == Approx(-0.012));
}

TEST_CASE("a line beyond the grid crosses nothing") {
  const Grid grid{4, 4, 1, 0, 0};
  const Mask active(grid.cells(), 1);
  CHECK(yard::faces_crossed(grid, active, {{10, 0}, {10, 4}}).x_faces.empty());
  CHECK(yard::faces_crossed(grid, active, {{1, 1}}).x_faces.empty());
}

TEST_CASE("an end on the limit of the yard goes on over it, one inside stays") {
  site::Site site;
  site.outline = {{0, 0}, {10, 0}, {10, 10}, {0, 10}};
  site.cell = 0.5;
  const Polyline across = yard::over_the_limit(site, {{0, 4}, {6, 4}});
  REQUIRE(across.size() == 3);
  CHECK(across.front().x == Approx(-1));
  CHECK(across.back().x == 6);
  const Polyline whole = yard::over_the_limit(site, {{2, 0}, {10, 8}});
  REQUIRE(whole.size() == 4);
  CHECK(whole.front().y == Approx(-std::sqrt(0.5)));
  CHECK(whole.back().x == Approx(10 + std::sqrt(0.5)));
}
