// Flow from one cover onto another, and into the ground: a patio above a rough lawn, a lawn that takes water
// in, and patio runoff that soaks away. Against characteristics and fine-grid solutions of the diffusive
// wave.
#include <cmath>
#include <vector>

#include "catch.hpp"
#include "figures.hpp"
#include "surface/yards.hpp"
#include "verification/steady_water.hpp"

using namespace yards;

namespace {

// A patio of 1 % (n 0.025) above a lawn of 2 % (n 0.15), four cells wide; a line is recorded where they meet.
Run patio_and_lawn(double patio, double lawn, double dx) {
  const double length = patio + lawn;
  Terrain terrain =
      rectangle(static_cast<int>(std::lround(length / dx)), 4, dx, 0.025, [=](double x, double) {
        return x < patio ? lawn * 0.02 + (patio - x) * 0.01 : (length - x) * 0.02;
      });
  const auto& grid = terrain.grid;
  for (std::size_t c = 0; c < terrain.manning_n.size(); ++c)
    if (grid.x(grid.column(c)) > patio) terrain.manning_n[c] = 0.15;
  open_side(terrain, 1);
  lowspot::surface::FaceSet edge;
  for (int j = 0; j < 4; ++j) {
    edge.x_faces.push_back(static_cast<int>(grid.x_face(static_cast<int>(std::lround(patio / dx)), j)));
    edge.x_weights.push_back(1);
  }
  terrain.lines.push_back(edge);
  return Run(std::move(terrain));
}

double depth_at(const Run& run, double x) {
  const double dx = run.flow.terrain().grid.cell;
  const int i = static_cast<int>(std::lround(x / dx));
  const auto h = run.flow.depth();
  const int row = 2 * run.flow.terrain().grid.nx;
  return 0.5 * (h[row + i - 1] + h[row + i]);
}

// Water between two distances, per metre of width [m2].
double stored(const Run& run, double from, double to) {
  const auto& grid = run.flow.terrain().grid;
  double sum = 0;
  for (int i = 0; i < grid.nx; ++i)
    if (grid.x(i) > from && grid.x(i) < to) sum += run.flow.depth()[2 * grid.nx + i] * grid.cell;
  return sum;
}

// Discharge at the foot [L/s] for a strip of this width [m].
double discharge_at(Run& run, double time, double width) {
  run.advance(time - run.time - 0.1);
  return run.advance(0.1) / 0.1 * width / (4 * run.flow.terrain().grid.cell) * 1e3;
}

} // namespace

TEST_CASE("Patio onto rough lawn", "[verification][surface]") {
  const double dx = 0.25;
  Run run = patio_and_lawn(8, 12, dx);
  run.rain(40 * mm_per_hour);
  const double equilibrium = 1.333333, width = 6;
  for (const auto& [time, q] : {std::pair{120.0, 0.09137}, {240.0, 0.29008}, {360.0, 0.57184}}) {
    const double now = discharge_at(run, time, width);
    CHECK_THAT(now, WithinAbs(q, 0.03 * equilibrium));
    figures::record("surface", "patio onto rough lawn", "discharge, L/s (share of the steady one)", q, now,
                    figures::share(0.03, equilibrium));
  }
  const double near_shock = discharge_at(run, 420, width);
  CHECK(near_shock > 1.05);
  CHECK(near_shock < 1.333334);
  CHECK_THAT(discharge_at(run, 480, width), WithinAbs(1.32918, 0.03 * equilibrium));
  CHECK_THAT(discharge_at(run, 2400, width), WithinRel(equilibrium, 0.001));
  CHECK_THAT(run.flow.crossed()[0] / 0.1 * width / (4 * dx) * 1e3, WithinRel(0.533333, 0.001));
  CHECK_THAT(stored(run, 0, 8) * width * 1e3, WithinRel(50.29, 0.02));
  figures::record("surface", "patio onto rough lawn", "water on the patio, L", 50.29,
                  stored(run, 0, 8) * width * 1e3, figures::share(0.02));
  CHECK_THAT(stored(run, 8, 20) * width * 1e3, WithinRel(385.90, 0.02));
  figures::record("surface", "patio onto rough lawn", "water on the lawn, L", 385.90,
                  stored(run, 8, 20) * width * 1e3, figures::share(0.02));
  for (const auto& [x, h] : {std::pair{4.0, 1.0744},
                             {7.5, 1.5694},
                             {8.5, 4.0092},
                             {10.0, 4.4175},
                             {14.0, 5.4007},
                             {19.0, 6.4823}}) {
    CAPTURE(x);
    CHECK_THAT(depth_at(run, x) * 1e3, WithinRel(h, 0.015));
    figures::record("surface", "patio onto rough lawn", "depths, mm", h, depth_at(run, x) * 1e3,
                    figures::share(0.015));
  }
  run.rain(0);
  for (const auto& [time, q] : {std::pair{2460.0, 1.12603}, {2580.0, 0.79313}, {3000.0, 0.16640}}) {
    const double now = discharge_at(run, time, width);
    CHECK_THAT(now, WithinAbs(q, 0.03 * equilibrium));
    figures::record("surface", "patio onto rough lawn", "discharge, L/s (share of the steady one)", q, now,
                    figures::share(0.03, equilibrium));
  }
  CHECK(std::abs(run.misfit()) < 1e-9 * run.supplied);
}

// Water backs up from the lawn onto the last 0.4 m of the patio, which cells must resolve: the error falls
// twenty-fold with the first halving, then is as small as what else there is.
TEST_CASE("Patio onto rough lawn, order of convergence", "[verification][surface]") {
  const double rain = 40 * mm_per_hour;
  const steady::Water lawn = steady::water_on({12, 0.02, 0.15, rain, 8 * rain});
  const steady::Water patio = steady::water_on({8, 0.01, 0.025, rain}, lawn.top_depth);
  CHECK_THAT(6 * patio.volume, WithinRel(50.29e-3, 0.006)); // above: from a grid of 5 cm
  CHECK_THAT(6 * lawn.volume, WithinRel(385.90e-3, 0.002));
  std::vector<double> on_patio, on_lawn;
  for (const double dx : {0.125, 0.0625, 0.03125}) {
    Run run = patio_and_lawn(8, 12, dx);
    run.rain(rain);
    run.advance(2400);
    on_patio.push_back(std::abs(stored(run, 0, 8) / patio.volume - 1));
    on_lawn.push_back(std::abs(stored(run, 8, 20) / lawn.volume - 1));
  }
  CAPTURE(on_patio, on_lawn);
  CHECK(on_patio[0] < 0.0075);
  for (const std::size_t finer : {1, 2}) {
    CHECK(on_patio[finer] < 0.0005);
    figures::record("surface", "patio onto rough lawn, cells of 0.06 and 0.03 m",
                    "error of the water on the patio, as a share", on_patio[finer], figures::at_most(0.0005));
  }
  CHECK(std::log2(on_lawn[0] / on_lawn[2]) / 2 > 0.9);
}

// The same balance for what is left of the rain.
TEST_CASE("Plane that soaks, order of convergence", "[verification][surface]") {
  const double stored_exactly = steady::water_on({25, 0.03, 0.12, 40 * mm_per_hour}).volume;
  std::vector<double> errors;
  for (const double dx : {1.0, 0.5, 0.25}) {
    Terrain terrain =
        rectangle(static_cast<int>(25 / dx), 1, dx, 0.12, [](double x, double) { return (25 - x) * 0.03; });
    open_side(terrain, 1);
    Run run(std::move(terrain));
    run.rain(60 * mm_per_hour);
    run.sink.assign(run.sink.size(), 20 * mm_per_hour);
    run.advance(2400);
    errors.push_back(std::abs(run.flow.volume() / dx / stored_exactly - 1));
  }
  CAPTURE(errors);
  const double order = std::log2(errors[0] / errors[2]) / 2;
  CHECK(order > 0.8);
  CHECK(errors[2] < 0.003);
  figures::record("surface", "plane that soaks 20 mm/h", "order in dx of the water on it", order,
                  figures::at_least(0.8));
}

// Rain 60 mm/h on a lawn that takes 20 mm/h while it is wet (kinematic characteristics, also after the rain).
TEST_CASE("Plane with a constant infiltration capacity", "[verification][surface]") {
  for (const double cell : {0.5, 0.25}) {
    Terrain terrain = rectangle(static_cast<int>(25 / cell), static_cast<int>(4 / cell), cell, 0.12,
                                [](double x, double) { return (25 - x) * 0.03; });
    open_side(terrain, 1);
    lowspot::surface::Options options;
    options.allow_rest = false; // the last film is what is looked at
    Run run(std::move(terrain), options);
    run.rain(60 * mm_per_hour);
    run.sink.assign(run.sink.size(), 20 * mm_per_hour);
    const double equilibrium = 1.11111;
    const auto check = [&](double time, double q, double share) {
      CAPTURE(cell, time);
      run.advance(time - run.time - 0.1);
      const double now = run.advance(0.1) / 0.1 * 1e3;
      CHECK_THAT(now, WithinAbs(q, share * equilibrium));
      if (q < 0.1 * equilibrium) CHECK_THAT(now, WithinRel(q, 0.02)); // gives 0.9 %
      figures::record("surface", "plane that soaks 20 mm/h", "discharge, L/s (share of the steady one)", q,
                      now, figures::share(share, equilibrium));
    };
    for (const auto& [time, q] : {std::pair{120.0, 0.09325}, {240.0, 0.29607}, {360.0, 0.58193}})
      check(time, q, 0.02);
    check(480, 0.93995, 0.05);
    check(2400, 1.11111, 0.001);
    CHECK_THAT(run.flow.volume(), WithinRel(368.528e-3, 0.01));
    figures::record("surface", "plane that soaks 20 mm/h", "water on it, L", (368.528e-3) * 1e3,
                    (run.flow.volume()) * 1e3, figures::share(0.01));
    run.rain(0);
    for (const auto& [time, q] : {std::pair{2430.0, 0.96140},
                                  {2460.0, 0.82595},
                                  {2520.0, 0.59537},
                                  {2580.0, 0.41365},
                                  {2640.0, 0.27425},
                                  {2700.0, 0.17045},
                                  {2760.0, 0.09591},
                                  {2820.0, 0.04519},
                                  {2880.0, 0.01413}})
      check(time, q, 0.02);
    double last = 0;
    while (run.time < 3300)
      if (run.advance(1) > 1e-9) last = run.time;
    CHECK_THAT(last - 2400, WithinRel(549.023, 0.05));
    figures::record("surface", "plane that soaks 20 mm/h", "dry after the rain, s", 549.023, last - 2400,
                    figures::share(0.05));
    CHECK_THAT(run.out, WithinRel(2476.034e-3, 0.005));
    figures::record("surface", "plane that soaks 20 mm/h", "runs off, L", (2476.034e-3) * 1e3,
                    (run.out) * 1e3, figures::share(0.005));
    CHECK_THAT(run.sunk, WithinRel(1523.966e-3, 0.005));
    figures::record("surface", "plane that soaks 20 mm/h", "soaks in, L", (1523.966e-3) * 1e3,
                    (run.sunk) * 1e3, figures::share(0.005));
    CHECK(std::abs(run.misfit()) < 1e-9 * run.supplied);
  }
}

// On the lawn q = i L1 - (f - i)(x - L1), whatever the friction: the wet part is 6 m long.
TEST_CASE("Patio runoff soaks into a lawn", "[verification][surface]") {
  const double dx = 0.25;
  Run run = patio_and_lawn(10, 12, dx);
  run.rain(30 * mm_per_hour);
  const auto& grid = run.flow.terrain().grid;
  for (std::size_t c = 0; c < run.sink.size(); ++c)
    if (grid.x(grid.column(c)) > 10) run.sink[c] = 80 * mm_per_hour;
  run.advance(7200);
  run.advance(60);
  CHECK_THAT(run.flow.crossed()[0] / 60 * 5 / (4 * dx) * 1e3, WithinRel(0.416667, 0.005));
  int wet = 0;
  while (wet < grid.nx && run.flow.depth()[2 * grid.nx + wet] > 1e-5) ++wet;
  CHECK_THAT(wet * dx, WithinAbs(16.0, 0.25 + 1e-9));
  figures::record("surface", "patio water soaks into a lawn", "wet down to, m", 16.0, wet * dx,
                  figures::amount(0.25 + 1e-9));
  CHECK(run.out < 0.005 * run.supplied);
  for (const auto& [x, h] : {std::pair{5.0, 1.0309},
                             {9.0, 1.4642},
                             {11.0, 3.2936},
                             {12.0, 2.8793},
                             {13.0, 2.4211},
                             {14.0, 1.8962},
                             {15.0, 1.2484}}) {
    CAPTURE(x);
    CHECK_THAT(depth_at(run, x) * 1e3, WithinRel(h, 0.03));
    figures::record("surface", "patio water soaks into a lawn", "depths, mm", h, depth_at(run, x) * 1e3,
                    figures::share(0.03));
  }
  CHECK_THAT(stored(run, 0, 10) * 5e3, WithinRel(49.93, 0.03));
  CHECK_THAT(stored(run, 10, 22) * 5e3, WithinRel(68.65, 0.03));
  CHECK(std::abs(run.misfit()) < 1e-9 * run.supplied);
}
