// Swales that run aslant to the cells, by the routed method, against Manning's formula.
#include "catch.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include <lowspot/terrain/ways_down.hpp>

#include "surface/yards.hpp"

using namespace lowspot::surface;
using namespace yards;

namespace {

struct Swale {
  double degrees, slope, side, manning_n, cell, discharge; // m/m, m/m, m, m3/s
};

struct Steady {
  double least, most; // outflow of half an hour as a share of what comes in
  double area;        // of the water across the swale as a share of that in even flow
  double deepest;     // m
};

// Fed over half a metre about its head until it is steady. A triangular section of sides 1 : side carries
// Q = sum over its width of h^(5/3) S^(1/2) / n = (3/4) y^(8/3) S^(1/2) / (n side) at the depth y (each strip
// by itself, as the equations have it).
Steady run_swale(const Swale& swale) {
  const double angle = swale.degrees * std::acos(-1.0) / 180, c = std::cos(angle), s = std::sin(angle);
  const double side_length = 24, x0 = 3, y0 = swale.degrees < 1 ? 12 : swale.degrees > 40 ? 3 : 5;
  const auto along = [&](double x, double y) { return (x - x0) * c + (y - y0) * s; };
  const auto ground = [&](double x, double y) {
    return 5 - swale.slope * along(x, y) + swale.side * std::abs(-(x - x0) * s + (y - y0) * c);
  };
  const int cells = static_cast<int>(std::lround(side_length / swale.cell));
  Terrain terrain = rectangle(cells, cells, swale.cell, swale.manning_n, ground);
  lowspot::terrain::open_ways_down([&](const lowspot::Point& p) { return ground(p.x, p.y); }, terrain.grid,
                                   terrain.active, terrain.elevation);
  for (const int side : {1, 3}) open_side(terrain, side);
  const lowspot::Grid grid = terrain.grid;
  std::vector<std::size_t> fed, measured;
  for (std::size_t q = 0; q < grid.cells(); ++q) {
    const double x = grid.x(grid.column(static_cast<int>(q))), y = grid.y(grid.row(static_cast<int>(q)));
    if (std::hypot(x - x0, y - y0) < 0.6) fed.push_back(q);
    if (along(x, y) > 6 && along(x, y) < 14) measured.push_back(q);
  }
  Options options;
  options.method = Method::routed;
  options.routing_step = 30;
  Run run(std::move(terrain), options);
  const double area = swale.cell * swale.cell;
  for (const std::size_t q : fed) run.supply[q] = swale.discharge / (static_cast<double>(fed.size()) * area);
  Steady found{1, 1, 0, 0};
  for (int k = 0; k < 300; ++k) {
    const double share = run.advance(30) / (30 * swale.discharge);
    if (k < 240) continue;
    found.least = std::min(found.least, share);
    found.most = std::max(found.most, share);
  }
  double volume = 0;
  for (const std::size_t q : measured) volume += run.flow.depth()[q] * area;
  for (const double depth : run.flow.depth()) found.deepest = std::max(found.deepest, depth);
  const double y =
      std::pow(swale.discharge * swale.manning_n * swale.side * 4 / 3 / std::sqrt(swale.slope), 3.0 / 8);
  found.area = volume / 8 / (y * y / swale.side);
  found.deepest /= y;
  return found;
}

} // namespace

TEST_CASE("Routed: swales at any angle to the cells", "[verification][routed]") {
  for (const double cell : {0.25, 0.15})
    for (const double degrees : {0.0, 10.0, 15.0, 20.0, 30.0, 36.0, 40.0, 45.0}) {
      const Steady found = run_swale({degrees, 0.01, 0.05, 0.2, cell, 0.003});
      CAPTURE(cell, degrees, found.least, found.most, found.area, found.deepest);
      // Halfway between the axes cells stand by their own ways alone, and the outflow swings.
      const double swings = degrees > 44 ? 0.2 : 0.05;
      CHECK(found.least > 1 - swings);
      CHECK(found.most < 1 + swings);
      CHECK_THAT(found.area, WithinAbs(1, 0.25));
      CHECK(found.deepest < 2);
    }
}

TEST_CASE("Routed: a smoother and a steeper swale at an angle to the cells", "[verification][routed]") {
  for (const double degrees : {15.0, 30.0, 38.0}) {
    for (const Swale& swale :
         {Swale{degrees, 0.005, 0.1, 0.05, 0.15, 0.003}, Swale{degrees, 0.02, 0.1, 0.05, 0.15, 0.003}}) {
      const Steady found = run_swale(swale);
      CAPTURE(degrees, swale.slope, found.least, found.most, found.area, found.deepest);
      CHECK(found.least > 0.95);
      CHECK(found.most < 1.05);
      CHECK_THAT(found.area, WithinAbs(1, 0.25));
    }
  }
}

// A trough that winds, in rain, against the dynamic method in the same cells.
TEST_CASE("Routed: winding swales in rain as the dynamic method has them", "[verification][routed]") {
  struct Trough {
    double degrees, slope, side, bottom, winds, length, manning_n, cell, rain; // winds: m; length: m; mm/h
  };
  for (const Trough& trough : {Trough{12, 0.008, 0.13, 0.13, 0.1, 20, 0.13, 0.15, 23},
                               Trough{19, 0.007, 0.08, 0.01, 0.8, 18, 0.09, 0.25, 39},
                               Trough{25, 0.009, 0.05, 0.2, 1.2, 22, 0.17, 0.25, 38}}) {
    const double pi = std::acos(-1.0), angle = trough.degrees * pi / 180, c = std::cos(angle),
                 s = std::sin(angle);
    const double y0 = 12 - 9 * std::tan(angle);
    const auto ground = [&](double x, double y) {
      const double along = (x - 2) * c + (y - y0) * s;
      const double aside =
          -(x - 2) * s + (y - y0) * c - trough.winds * std::sin(2 * pi * along / trough.length);
      return 8 - trough.slope * along + trough.side * std::max(std::abs(aside) - trough.bottom, 0.0);
    };
    std::vector<double> flow[2], deepest[2];
    double volume[2] = {};
    for (const int routed : {0, 1}) {
      const int cells = static_cast<int>(std::lround(24 / trough.cell));
      Terrain terrain = rectangle(cells, cells, trough.cell, trough.manning_n, ground);
      lowspot::terrain::open_ways_down([&](const lowspot::Point& p) { return ground(p.x, p.y); },
                                       terrain.grid, terrain.active, terrain.elevation);
      for (int side = 0; side < 4; ++side) open_side(terrain, side);
      Options options;
      options.method = routed ? Method::routed : Method::dynamic;
      options.routing_step = 30;
      Run run(std::move(terrain), options);
      deepest[routed].assign(run.flow.depth().size(), 0.0);
      for (int k = 0; k < 240; ++k) {
        run.rain(k < 120 ? trough.rain * mm_per_hour : 0.0);
        flow[routed].push_back(run.advance(30) / 30);
        if (k == 119) volume[routed] = run.flow.volume();
        for (std::size_t q = 0; q < deepest[routed].size(); ++q)
          deepest[routed][q] = std::max(deepest[routed][q], run.flow.depth()[q]);
      }
    }
    const double peak = *std::max_element(flow[0].begin(), flow[0].end());
    double worst = 0, square = 0;
    for (std::size_t q = 0; q < deepest[0].size(); ++q)
      worst = std::max(worst, std::abs(deepest[1][q] - deepest[0][q]));
    for (std::size_t k = 0; k < flow[0].size(); ++k)
      square += (flow[1][k] - flow[0][k]) * (flow[1][k] - flow[0][k]) / 240;
    CAPTURE(trough.degrees, trough.cell, volume[0], volume[1], peak, worst, std::sqrt(square) / peak);
    CHECK_THAT(volume[1], WithinRel(volume[0], 0.1));
    CHECK_THAT(*std::max_element(flow[1].begin(), flow[1].end()), WithinRel(peak, 0.1));
    CHECK(std::sqrt(square) < 0.06 * peak);
    CHECK(worst < 0.05);
  }
}
