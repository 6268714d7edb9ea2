#include <lowspot/perched/multigrid.hpp>

#include <cmath>

#include <lowspot/perched/bicgstab.hpp>

#include "catch.hpp"
#include "perched/matrices.hpp"

using namespace matrices;

namespace {

// Mean factor by which one cycle reduces the remainder.
double reduction(int nx, int ny, double retained) {
  const perched::Stencil s = random_system(5, nx, ny, retained, 0);
  perched::Multigrid multigrid(s.frame);
  multigrid.set(s);
  const Field b = random_field(6, s.frame);
  Field x(s.frame.size(), 0.0), remainder = b, correction = x;
  const double start = std::sqrt(perched::dot(remainder, remainder));
  constexpr int cycles = 10;
  for (int cycle = 0; cycle < cycles; ++cycle) {
    multigrid.apply(remainder, correction);
    for (std::size_t k = 0; k < x.size(); ++k) x[k] += correction[k];
    subtract_product(s, b, x, remainder);
  }
  return std::pow(std::sqrt(perched::dot(remainder, remainder)) / start, 1.0 / cycles);
}

// Iterations with the cycle as preconditioner.
int iterations(int n, double retained, double carried) {
  perched::Stencil s = random_system(5, n, n, retained, 0);
  for (double& out : s.east_out) out += out > 0 ? carried : 0; // a steady drift to the east and south
  for (double& back : s.north_back) back += back > 0 ? 0.3 * carried : 0;
  complete(s);
  perched::Multigrid multigrid(s.frame);
  multigrid.set(s);
  perched::BicgstabWorkspace work = perched::make_bicgstab_workspace(s.frame);
  Field x(s.frame.size(), 0.0);
  return perched::bicgstab(s, multigrid, random_field(6, s.frame), x, 1e-8, 200, work);
}

} // namespace

TEST_CASE("A cycle reduces what is left at a rate that does not grow with the grid") {
  for (double retained : {1.0, 1e-2, 1e-4}) {
    CAPTURE(retained);
    CHECK(reduction(16, 16, retained) < 0.75);
    CHECK(reduction(129, 75, retained) < 0.75);
    CHECK(reduction(300, 300, retained) < 0.75);
  }
}

TEST_CASE("Where nothing spreads far one grid is enough") {
  CHECK(reduction(64, 64, 10) < 0.2);
}

TEST_CASE("Slopes that carry water cost few more iterations") {
  for (int n : {32, 128, 300}) {
    CHECK(iterations(n, 1.0, 3.0) <= 12);
    CHECK(iterations(n, 1e-2, 0.5) <= 25);
  }
}

TEST_CASE("Single rows and single cells have their cycles too") {
  CHECK(reduction(33, 1, 0.1) < 0.8);
  CHECK(reduction(1, 1, 0.1) < 0.3);
}
