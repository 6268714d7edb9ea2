#include "catch.hpp"
#include "figures.hpp"

#include <cmath>
#include <numeric>

#include <lowspot/study/draws.hpp>
#include <lowspot/study/spread.hpp>

using namespace lowspot;

TEST_CASE("quantiles of equal and of unequal weights") {
  const std::vector<double> values{3, 1, 2, 4}, equal(4, 1.0);
  CHECK(study::weighted_quantile(values, equal, 0.5) == 2.5);
  CHECK(study::weighted_quantile(values, equal, 0.0) == 1);
  CHECK(study::weighted_quantile(values, equal, 1.0) == 4);
  CHECK_THAT(study::weighted_quantile(values, equal, 0.25), WithinAbs(1.5, 1e-12)); // Hazen: between 1 and 2
  // A weight of two is the same as the value twice, up to the middle of the two.
  const std::vector<double> heavy{0, 2, 1, 1};
  CHECK(study::weighted_quantile(values, heavy, 0.25) == 1);
  CHECK(study::weighted_quantile(values, heavy, 1) == 4);
  CHECK_FALSE(std::isfinite(study::weighted_quantile(values, std::vector<double>(4, 0.0), 0.5)));
}

TEST_CASE("the quantiles of stratified draws of a normal value are those of the normal value") {
  const auto set = study::stratified(400, 1, 3);
  std::vector<double> values;
  for (const auto& row : set) values.push_back(study::normal_quantile(row[0]));
  const std::vector<double> weights(values.size(), 1.0);
  for (const double p : {0.1, 0.5, 0.9}) {
    CHECK_THAT(study::weighted_quantile(values, weights, p), WithinAbs(study::normal_quantile(p), 0.01));
    figures::record("study", "400 stratified draws of a normal value", "P10, P50, P90",
                    study::normal_quantile(p), study::weighted_quantile(values, weights, p),
                    figures::amount(0.01));
  }
}

TEST_CASE("equal values share a rank") {
  CHECK(study::ranks(std::vector<double>{5, 1, 5, 0}) == std::vector<double>{3.5, 2, 3.5, 1});
}

TEST_CASE("shares of a linear model of independent inputs are the squares of its rank correlations") {
  // y = 3 a - 2 b + c of normal values: correlations r with squares 9, 4 and 1 of 14. Ranks of two normal
  // values correlate by 6 / pi asin(r / 2) (Pearson 1907).
  const auto exact = [](double square) {
    return std::pow(6 / M_PI * std::asin(std::sqrt(square / 14) / 2), 2);
  };
  const auto set = study::stratified(2000, 4, 11);
  std::vector<std::vector<double>> inputs;
  std::vector<double> result;
  for (const auto& row : set) {
    std::vector<double> z;
    for (const double p : row) z.push_back(study::normal_quantile(p));
    result.push_back(3 * z[0] - 2 * z[1] + z[2]);
    inputs.push_back(z);
  }
  const std::vector<double> weights(result.size(), 1.0);
  const auto shares = study::shares_of_spread(inputs, result, weights);
  REQUIRE(shares.size() == 4);
  CHECK_THAT(shares[0].share, WithinAbs(exact(9), 0.02));
  figures::record("study", "linear model of independent inputs (Pearson)", "share of the spread", exact(9),
                  shares[0].share, figures::amount(0.02));
  CHECK_THAT(shares[1].share, WithinAbs(exact(4), 0.02));
  figures::record("study", "linear model of independent inputs (Pearson)", "share of the spread", exact(4),
                  shares[1].share, figures::amount(0.02));
  CHECK_THAT(shares[2].share, WithinAbs(exact(1), 0.02));
  figures::record("study", "linear model of independent inputs (Pearson)", "share of the spread", exact(1),
                  shares[2].share, figures::amount(0.02));
  CHECK_THAT(shares[3].share, WithinAbs(0, 0.01));
  CHECK(shares[0].partial > 0.9);
  CHECK(shares[1].partial < -0.9);
  CHECK(std::abs(shares[3].partial) < 0.2);
  // A monotone bend of the result changes nothing: it is a matter of ranks.
  std::vector<double> bent;
  for (const double value : result) bent.push_back(std::exp(value));
  CHECK_THAT(study::shares_of_spread(inputs, bent, weights)[1].share, WithinAbs(shares[1].share, 1e-12));
}

TEST_CASE("one input alone has the whole share; no spread has none") {
  const std::vector<std::vector<double>> inputs{{1, 2}, {2, 1}, {3, 4}, {4, 3}};
  const std::vector<double> weights(4, 1.0);
  const auto shares = study::shares_of_spread(inputs, std::vector<double>{4, 3, 2, 1}, weights);
  CHECK_THAT(shares[0].share, WithinAbs(1, 1e-12));
  CHECK(shares[0].partial == -1);
  CHECK_THAT(shares[1].share, WithinAbs(0, 1e-12));
  CHECK(study::shares_of_spread(inputs, std::vector<double>(4, 2.0), weights)[0].share == 0);
}

TEST_CASE("effective number of draws") {
  CHECK(study::effective_draws(std::vector<double>(20, 1.0)) == 20);
  CHECK(study::effective_draws(std::vector<double>{1, 0, 0}) == 1);
}

TEST_CASE("a quantile that leans on a value which had not ended is open, below such a value as well") {
  // Ten draws of equal weight stand at 0.05, 0.15 ... 0.95: P90 lies half way between the ninth and the
  // tenth.
  std::vector<double> hours{1, 2, 3, 4, 5, 6, 7, 8, 9, 72};
  const std::vector<double> equal(10, 1.0);
  std::vector<char> open(10, 0);
  CHECK_FALSE(study::quantile_is_open(hours, open, equal, 0.9));
  open[9] = 1;
  CHECK_THAT(study::weighted_quantile(hours, equal, 0.9), WithinAbs(40.5, 1e-12));
  CHECK(study::quantile_is_open(hours, open, equal, 0.9));
  CHECK_FALSE(study::quantile_is_open(hours, open, equal, 0.84)); // between the eighth and the ninth
  CHECK_FALSE(study::quantile_is_open(hours, open, equal, 0.5));
  // One that had not ended below the quantile may belong above it.
  hours = {1, 2, 3, 4, 5, 6, 50, 60, 70, 80};
  open.assign(10, 0);
  open[6] = 1;
  CHECK(study::quantile_is_open(hours, open, equal, 0.9));
  CHECK_FALSE(study::quantile_is_open(hours, open, equal, 0.5));
  // All of them alike, and one alone.
  CHECK(study::quantile_is_open(std::vector<double>(10, 72.0), std::vector<char>(10, 1), equal, 0.1));
  CHECK(study::quantile_is_open(std::vector<double>{72}, std::vector<char>{1}, std::vector<double>{1}, 0.5));
  CHECK_FALSE(study::quantile_is_open(hours, open, std::vector<double>(10, 0.0), 0.9));
}
