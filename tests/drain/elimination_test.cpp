#include <cmath>
#include <random>

#include <Eigen/Dense>

#include <lowspot/drain/elimination.hpp>

#include "catch.hpp"

using namespace lowspot::drain;

TEST_CASE("elimination agrees with a dense solution on networks with shared places") {
  std::mt19937 random(7);
  std::uniform_real_distribution<> between(0.1, 1);
  const int size = 30;
  std::vector<std::pair<int, int>> pairs;
  for (int i = 0; i + 1 < size - 2; ++i) pairs.emplace_back(i, i + 1);
  for (int i : {0, 9, 10, 27}) pairs.emplace_back(i, size - 2);
  for (int i : {5, 20, 28}) pairs.emplace_back(i, size - 1);
  Elimination matrix(size, pairs);
  for (int repeat = 0; repeat < 3; ++repeat) {
    Eigen::MatrixXd dense = Eigen::MatrixXd::Zero(size, size);
    matrix.clear();
    const auto put = [&](int row, int column, double value) {
      matrix.values()[matrix.position(row, column)] += value;
      dense(row, column) += value;
    };
    for (const auto& [a, b] : pairs) {
      const double forward = between(random), back = between(random);
      put(a, b, -forward), put(b, a, -back);
      put(b, b, forward), put(a, a, back); // dominated by its diagonal by columns
    }
    for (int i = 0; i < size; ++i) put(i, i, 0.1);
    Eigen::VectorXd right(size);
    for (int i = 0; i < size; ++i) right[i] = between(random);
    std::vector<double> solution(right.data(), right.data() + size);
    REQUIRE(matrix.solve(solution));
    const Eigen::VectorXd reference = dense.partialPivLu().solve(right);
    for (int i = 0; i < size; ++i) CHECK_THAT(solution[i], WithinRel(reference[i], 1e-10));
  }
}

TEST_CASE("a vanishing pivot is reported") {
  Elimination matrix(2, {{0, 1}});
  std::vector<double> right = {1, 1};
  CHECK_FALSE(matrix.solve(right));
}
