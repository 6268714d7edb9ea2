#include <lowspot/perched/solver.hpp>

#include <Eigen/SparseLU>
#include <cmath>

#include "catch.hpp"
#include "perched/matrices.hpp"
#include "perched/zone.hpp"

using namespace zone;

TEST_CASE("A step depends on its arguments alone") {
  const Scene s = random_scene(5, 12, 9);
  perched::Solver solver(s.layer);
  const auto run = [&](double dt) {
    return solver.step(s.saturated, s.rising, s.falling, s.recharge, s.head_above, s.exchanges, dt);
  };
  const perched::StepResult first = run(600);
  run(10800);
  const perched::StepResult again = run(600), free = step(s, 600);
  CHECK(first.net_water == again.net_water);
  CHECK(first.net_water == free.net_water);
  CHECK(first.exchanged == free.exchanged);
  CHECK(first.left_through == free.left_through);
}

TEST_CASE("A step agrees with a direct solution of the linear problem it becomes on a thick level zone") {
  // A ripple of 1 mm on 3 m: K H is as good as constant, and the step is (S - dt K H lap) change = dt K H lap
  // H.
  const int nx = 21, ny = 16;
  const double dt = 3600, porosity = 0.1, conductivity = 1e-5, base = 3;
  Zone zone(flat_layer(nx, ny, 0.5, 5.0, conductivity), porosity);
  perched::Stencil s = perched::make_stencil(perched::make_frame(nx, ny));
  Field ripple(s.frame.size(), 0.0), rhs = ripple;
  std::mt19937 generator(3);
  std::uniform_real_distribution<double> unit(-5e-4, 5e-4);
  const double spread = conductivity * base * dt / 0.25;
  for (int j = 0; j < ny; ++j) {
    for (int i = 0; i < nx; ++i) {
      const std::ptrdiff_t k = s.frame.index(i, j);
      ripple[k] = unit(generator);
      zone.saturated[zone.layer.grid.index(i, j)] = base + ripple[k];
      if (i + 1 < nx) s.east_out[k] = s.east_back[k] = spread;
      if (j + 1 < ny) s.north_out[k] = s.north_back[k] = spread;
    }
  }
  complete(s);
  multiply(s, ripple, rhs);
  for (std::ptrdiff_t k = 0; k < s.frame.size(); ++k) rhs[k] = -rhs[k];
  for (int j = 0; j < ny; ++j)
    for (int i = 0; i < nx; ++i) s.retained[s.frame.index(i, j)] = porosity;
  Eigen::SparseLU<Eigen::SparseMatrix<double>> direct(matrices::sparse(s));
  const Eigen::VectorXd change = direct.solve(matrices::dense(s.frame, rhs));
  const perched::StepResult& result = zone.advance(dt);
  for (std::size_t c = 0; c < result.net_water.size(); ++c)
    CHECK_THAT(result.net_water[c] / porosity, WithinAbs(change[static_cast<long>(c)], 1e-3 * 5e-4));
}

TEST_CASE("The solved thicknesses satisfy the balance: water gained is porosity times the rise") {
  for (unsigned seed = 1; seed <= 6; ++seed) {
    Scene s = random_scene(seed, 16, 13);
    s.rising = s.falling; // so that the rise can be read back from the water
    const perched::StepResult tight = step(s, 3600, {40, 1e-13}), usual = step(s, 3600);
    double worst = 0;
    for (std::size_t c = 0; c < s.saturated.size(); ++c)
      worst = std::max(worst, std::abs(tight.net_water[c] - usual.net_water[c]));
    CHECK(worst < 1e-9);
  }
}
