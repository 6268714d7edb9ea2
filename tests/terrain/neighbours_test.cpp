#include "catch.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <random>

#include <lowspot/terrain/neighbours.hpp>

#include "yards.hpp"

using namespace lowspot;
using namespace lowspot::terrain;

namespace {
Survey cloud(unsigned seed) {
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> place(0, 20);
  Survey survey;
  for (int k = 0; k < 200; ++k) {
    const double x = place(random), y = place(random);
    survey.points.push_back({"p", {x, y, 3 + 0.1 * x - 0.2 * y}, k + 2, true});
  }
  return survey;
}
} // namespace

TEST_CASE("the nearest points are those that a search of all finds", "[neighbours]") {
  const Survey survey = cloud(3);
  const Neighbours neighbours(survey);
  std::vector<char> left_out(200, 0);
  left_out[7] = 1;
  for (const Point3& at : {Point3{10, 10, 0}, Point3{0, 0, 0}, Point3{-30, 5, 0}, Point3{19, 45, 0}}) {
    std::vector<std::pair<double, int>> all;
    for (int k = 0; k < 200; ++k)
      if (k != 7 && k != 9)
        all.emplace_back(std::hypot(survey.points[k].at.x - at.x, survey.points[k].at.y - at.y), k);
    std::sort(all.begin(), all.end());
    const auto near = neighbours.near(at, 12, left_out, 9);
    REQUIRE(near.size() == 12);
    for (int n = 0; n < 12; ++n) CHECK(near[n] == all[n].second);
  }
  CHECK(neighbours.near({10, 10, 0}, 1000, left_out, 9).size() == 198);
}

TEST_CASE("every guess is exact on a plane, and its shares add up to one", "[neighbours]") {
  const Survey survey = cloud(5);
  const Neighbours neighbours(survey);
  const std::vector<char> none(200, 0);
  for (const Point3& at : {Point3{10, 10, 0}, Point3{0.5, 19, 0}}) {
    const auto guesses = neighbours.guesses(at, none, -1);
    REQUIRE(guesses.size() > 4);
    for (const Guess& guess : guesses) {
      CHECK_THAT(guess.z, WithinAbs(3 + 0.1 * at.x - 0.2 * at.y, 1e-9));
      CHECK_THAT(std::accumulate(guess.share.begin(), guess.share.end(), 0.0), WithinAbs(1, 1e-9));
      CHECK(guess.spread >= 1);
    }
  }
}

TEST_CASE("points across a breakline are no neighbours", "[neighbours]") {
  Survey survey = cloud(8);
  survey.points.push_back({"line", {0, 10, 0}, 0, false});
  survey.points.push_back({"line", {20, 10, 0}, 0, false});
  survey.edges = {{200, 201}};
  const Neighbours neighbours(survey);
  for (int k : neighbours.near({10, 8, 0}, 40, std::vector<char>(202, 0), -1))
    CHECK(survey.points[k].at.y <= 10);
}
