#include <lowspot/perched/bicgstab.hpp>

#include <Eigen/SparseLU>

#include "catch.hpp"
#include "perched/matrices.hpp"

using namespace matrices;

TEST_CASE("The iterative solution is that of a direct solver") {
  for (double retained : {1.0, 1e-3})
    for (double carried : {0.0, 5.0}) {
      const perched::Stencil s = random_system(11, 31, 22, retained, carried);
      perched::Multigrid multigrid(s.frame);
      multigrid.set(s);
      perched::BicgstabWorkspace work = perched::make_bicgstab_workspace(s.frame);
      const Field b = random_field(12, s.frame);
      Field x(s.frame.size(), 0.0);
      const int iterations = perched::bicgstab(s, multigrid, b, x, 1e-12, 100, work);
      CHECK(iterations < 40);
      Eigen::SparseLU<Eigen::SparseMatrix<double>> direct(sparse(s));
      const Eigen::VectorXd exact = direct.solve(dense(s.frame, b));
      CHECK((dense(s.frame, x) - exact).norm() < 1e-8 * exact.norm());
    }
}

TEST_CASE("Nothing asked, nothing done") {
  const perched::Stencil s = random_system(1, 4, 4, 1, 0);
  perched::Multigrid multigrid(s.frame);
  multigrid.set(s);
  perched::BicgstabWorkspace work = perched::make_bicgstab_workspace(s.frame);
  Field x(s.frame.size(), 1.0);
  CHECK(perched::bicgstab(s, multigrid, Field(s.frame.size(), 0.0), x, 1e-6, 10, work) == 0);
  CHECK(perched::largest(x) == 0);
}
