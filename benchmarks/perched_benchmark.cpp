// Time of one perched step on a sloping yard with a low spot and a trench, against Eigen's iterative solver
// with a diagonal preconditioner on the first linear system of the same step.
#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <limits>
#include <numbers>

#include <Eigen/IterativeLinearSolvers>
#include <Eigen/Sparse>

#include <lowspot/perched/laws.hpp>
#include <lowspot/perched/solver.hpp>

using namespace lowspot;
using Clock = std::chrono::steady_clock;

namespace {

double milliseconds_since(Clock::time_point start) {
  return std::chrono::duration<double, std::milli>(Clock::now() - start).count();
}

struct Case {
  perched::Layer layer;
  Field saturated, porosity, zero;
  std::vector<perched::Exchange> exchanges;
};

Case yard(int nx, int ny, double conductivity) {
  Case c;
  c.layer.grid = {nx, ny, 0.25, 0, 0};
  const std::size_t cells = c.layer.grid.cells();
  c.layer.active.assign(cells, 1);
  c.layer.thickness.assign(cells, 0.35);
  c.layer.conductivity.assign(cells, conductivity);
  c.layer.leakage_conductivity.assign(cells, 1e-7);
  c.layer.leakage_thickness.assign(cells, std::numeric_limits<double>::infinity());
  c.porosity.assign(cells, 0.08);
  c.zero.assign(cells, 0.0);
  for (int j = 0; j < ny; ++j) {
    for (int i = 0; i < nx; ++i) {
      const double x = (i + 0.5) / nx, y = (j + 0.5) / ny;
      const double hollow = -0.3 * std::exp(-40 * ((x - 0.6) * (x - 0.6) + (y - 0.4) * (y - 0.4)));
      const double relief = 0.02 * std::sin(i * 0.9) * std::cos(j * 0.7);
      c.layer.tight_elevation.push_back(-0.02 * 0.25 * i + hollow + relief);
      c.saturated.push_back(std::max(0.0, 0.2 + 0.25 * std::sin(2 * std::numbers::pi * (x + 2 * y))));
    }
  }
  for (double& h : c.saturated) h = std::min(h, 0.35);
  const int row = ny / 2;
  for (int i = nx / 5; i < 4 * nx / 5; ++i) {
    const auto cell = c.layer.grid.index(i, row);
    c.exchanges.push_back({static_cast<int>(cell), 1e-4, c.layer.tight_elevation[cell] - 0.1, 0.0});
  }
  for (int j = 0; j < ny; ++j)
    c.layer.outflow_faces.push_back({static_cast<int>(c.layer.grid.index(nx - 1, j)), 1});
  return c;
}

// Marches 48 hours; prints the mean time of a step and of a linear system.
double march(Case c, double dt) {
  perched::Solver solver(c.layer);
  const int steps = std::max(3, std::min(60, static_cast<int>(172800 / dt)));
  int newton = 0, linear = 0;
  double spent = 0;
  for (int step = 0; step < steps; ++step) {
    const Clock::time_point start = Clock::now();
    const perched::StepResult& r =
        solver.step(c.saturated, c.porosity, c.porosity, c.zero, c.zero, c.exchanges, dt);
    spent += milliseconds_since(start);
    newton += r.newton_iterations;
    linear += r.iterations;
    for (std::size_t k = 0; k < c.saturated.size(); ++k)
      c.saturated[k] = std::min(c.layer.thickness[k], c.saturated[k] + r.net_water[k] / c.porosity[k]);
  }
  std::printf(
      "%8zu cells  dt %6.0f s  %6.2f ms a step  %4.1f systems, %5.1f iterations a step  %5.2f ms a system\n",
      c.saturated.size(), dt, spent / steps, double(newton) / steps, double(linear) / steps, spent / newton);
  return spent / newton;
}

// Follows 30 days after a storm with steps as long as a table that may move 5 mm a step allows, from 10 s to
// 3 h, as the coupled yard chooses them.
void march_by_pace(Case c) {
  perched::Solver solver(c.layer);
  const auto step = [&](double dt) {
    const perched::StepResult& r =
        solver.step(c.saturated, c.porosity, c.porosity, c.zero, c.zero, c.exchanges, dt);
    double moved = 0;
    for (std::size_t k = 0; k < c.saturated.size(); ++k) {
      const double after = std::min(c.layer.thickness[k], c.saturated[k] + r.net_water[k] / c.porosity[k]);
      moved = std::max(moved, std::abs(after - c.saturated[k]));
      c.saturated[k] = after;
    }
    return moved;
  };
  const double end = 30 * 86400.0;
  double time = 0, dt = 10, shortest = 1e9, longest = 0;
  int steps = 0;
  const Clock::time_point start = Clock::now();
  for (; time < end; ++steps) {
    dt = std::min(dt, end - time);
    const double moved = step(dt);
    time += dt;
    shortest = std::min(shortest, dt);
    longest = std::max(longest, dt);
    dt = std::clamp(moved > 0 ? 0.005 * dt / moved : 2 * dt, 10.0, std::min(2 * dt, 10800.0));
  }
  const double spent = milliseconds_since(start);
  std::printf("%8zu cells  30 days by the pace of the table: %d steps of %.0f s to %.0f s, %.0f ms\n",
              c.saturated.size(), steps, shortest, longest, spent);
}

Eigen::SparseMatrix<double, Eigen::RowMajor> first_system(const Case& c, double dt, Eigen::VectorXd& rhs) {
  perched::Balance b = perched::make_balance(c.layer);
  b.dt = dt;
  b.spreading = dt / b.cell_area;
  pack(b.frame, c.saturated, b.start);
  pack(b.frame, c.porosity, b.rising);
  pack(b.frame, c.porosity, b.falling);
  b.leakage_constant.assign(b.leakage_constant.size(), 1e-7 * dt);
  perched::Flows flows = perched::make_flows(b);
  perched::Linearised system = perched::make_linearised(b);
  perched::linearise(b, b.start, flows, system);
  const perched::Stencil& s = system.stencil;
  std::vector<Eigen::Triplet<double>> entries;
  const auto size = static_cast<int>(c.saturated.size());
  rhs.resize(size);
  for (int cell = 0; cell < size; ++cell) {
    const std::ptrdiff_t k = framed(b.frame, static_cast<std::size_t>(cell));
    const int nx = c.layer.grid.nx;
    rhs[cell] = system.residual[k];
    entries.emplace_back(cell, cell, s.diagonal[k] > 0 ? s.diagonal[k] : 1);
    if (s.east_back[k] > 0) entries.emplace_back(cell, cell + 1, -s.east_back[k]);
    if (s.east_out[k] > 0) entries.emplace_back(cell + 1, cell, -s.east_out[k]);
    if (s.north_back[k] > 0) entries.emplace_back(cell, cell + nx, -s.north_back[k]);
    if (s.north_out[k] > 0) entries.emplace_back(cell + nx, cell, -s.north_out[k]);
  }
  Eigen::SparseMatrix<double, Eigen::RowMajor> matrix(size, size);
  matrix.setFromTriplets(entries.begin(), entries.end());
  return matrix;
}

double reference(const Case& c, double dt) {
  Eigen::VectorXd rhs;
  const Eigen::SparseMatrix<double, Eigen::RowMajor> matrix = first_system(c, dt, rhs);
  Eigen::BiCGSTAB<Eigen::SparseMatrix<double, Eigen::RowMajor>> solver(matrix);
  solver.setTolerance(1e-3);
  const Clock::time_point start = Clock::now();
  const Eigen::VectorXd x = solver.solve(rhs);
  return milliseconds_since(start) + 0 * x[0];
}

} // namespace

int main() {
  for (const auto& [nx, ny] : {std::pair{125, 120}, std::pair{400, 300}})
    for (double conductivity : {1e-5, 1e-4}) {
      std::printf("conductivity %.0e m/s\n", conductivity);
      for (double dt : {60.0, 600.0, 3600.0, 10800.0}) {
        const Case c = yard(nx, ny, conductivity);
        const double system = march(c, dt);
        const double plain = std::min({reference(c, dt), reference(c, dt), reference(c, dt)});
        std::printf("%53s Eigen, solving alone: %.2f ms, ratio %.2f\n", "", plain, plain / system);
      }
    }
  for (double conductivity : {1e-6, 1e-5}) march_by_pace(yard(125, 120, conductivity));
  // A dry yard is passed over.
  Case dry = yard(400, 300, 1e-5);
  dry.saturated.assign(dry.saturated.size(), 0.0);
  dry.exchanges.clear();
  perched::Solver solver(dry.layer);
  const Clock::time_point start = Clock::now();
  for (int k = 0; k < 20; ++k)
    solver.step(dry.saturated, dry.porosity, dry.porosity, dry.zero, dry.zero, {}, 600);
  std::printf("dry, 120000 cells: %.3f ms a step\n", milliseconds_since(start) / 20);
}
