#include "catch.hpp"

#include <lowspot/results/standing.hpp>

using namespace lowspot;

TEST_CASE("standing time is interpolated inside a step") {
  results::StandingTime standing(0.01, std::vector<double>{0.0, 0.05});
  const std::vector<double> deep{0.02, 0.05}, dry{0.0, 0.0};
  standing.step(0, 100, deep, 0);  // passes 0.01 half way
  standing.step(100, 200, dry, 0); // and again; the second cell at 0.8 of the step
  CHECK_THAT(standing.total()[0], WithinAbs(50 + 50, 1e-12));
  CHECK_THAT(standing.last()[0], WithinAbs(150, 1e-12));
  CHECK_THAT(standing.total()[1], WithinAbs(100 + 80, 1e-12));
  CHECK_FALSE(standing.standing(0));
}

TEST_CASE("time after the rain is counted by itself") {
  results::StandingTime standing(0.01, std::vector<double>{0.05});
  standing.step(0, 100, std::vector<double>{0.05}, 60);
  standing.step(100, 200, std::vector<double>{0.05}, 60);
  CHECK(standing.total()[0] == 200);
  CHECK(standing.after_rain()[0] == 140);
}

TEST_CASE("the answer does not depend on how a linear fall is cut into steps") {
  results::StandingTime whole(0.01, std::vector<double>{0.05}), cut(0.01, std::vector<double>{0.05});
  whole.step(0, 1000, std::vector<double>{0.0}, 0);
  for (int k = 1; k <= 7; ++k)
    cut.step(1000.0 * (k - 1) / 7, 1000.0 * k / 7, std::vector<double>{0.05 * (1 - k / 7.0)}, 0);
  CHECK_THAT(cut.total()[0], WithinAbs(whole.total()[0], 1e-9));
  CHECK_THAT(whole.total()[0], WithinAbs(800, 1e-9));
}

TEST_CASE("an area is wet while a puddle of the least size stands") {
  const std::vector<int> cells{0, 1, 2};
  const std::vector<double> areas{0.05, 0.05, 1.0};
  const Field last{500, 400, 100};
  CHECK(results::last_standing(cells, areas, last, 0.09) == 400);
  CHECK(results::last_standing(cells, areas, last, 0.01) == 500);
  CHECK(results::last_standing(cells, areas, last, 1.05) == 100);
  CHECK(results::last_standing(cells, areas, last, 5) == 0);
}
