#include <lowspot/perched/stencil.hpp>

#include <cmath>
#include <limits>

#include "catch.hpp"
#include "perched/matrices.hpp"

using namespace matrices;

TEST_CASE("The stencil is the matrix it stands for") {
  const perched::Stencil s = random_system(1, 7, 5, 0.3, 2.0);
  const Eigen::SparseMatrix<double> matrix = sparse(s);
  const Field x = random_field(2, s.frame), b = random_field(3, s.frame);
  const Eigen::VectorXd product = matrix * dense(s.frame, x);
  Field y(s.frame.size(), 0.0);
  multiply(s, x, y);
  CHECK((dense(s.frame, y) - product).norm() < 1e-13);
  subtract_product(s, b, x, y);
  const Eigen::VectorXd remainder = dense(s.frame, b) - product;
  CHECK((dense(s.frame, y) - remainder).norm() < 1e-13);
  jacobi_sweep(s, 0.8, b, x, y);
  const Eigen::VectorXd scaled = remainder.cwiseQuotient(Eigen::VectorXd(matrix.diagonal()));
  CHECK((dense(s.frame, y) - dense(s.frame, x) - 0.8 * scaled).norm() < 1e-13);
}

TEST_CASE("A cell without any entry is left alone") {
  perched::Stencil s = perched::make_stencil(perched::make_frame(2, 1));
  s.retained[s.frame.index(0, 0)] = 2;
  complete(s);
  CHECK(s.inverse[s.frame.index(0, 0)] == 0.5);
  CHECK(s.inverse[s.frame.index(1, 0)] == 0);
}

TEST_CASE("Dot product and largest value") {
  Field a(37), b(37);
  double sum = 0;
  for (int k = 0; k < 37; ++k) {
    a[k] = k - 20;
    b[k] = k * k;
    sum += a[k] * b[k];
  }
  CHECK(perched::dot(a, b) == sum);
  CHECK(perched::largest(a) == 20);
  a[5] = std::numeric_limits<double>::quiet_NaN();
  CHECK(std::isnan(perched::largest(a)));
}
