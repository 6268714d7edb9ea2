#include "catch.hpp"

#include <numeric>
#include <vector>

#include <lowspot/base/error.hpp>
#include <lowspot/yard/in_halves.hpp>

using namespace lowspot;

TEST_CASE("a step that is refused is taken in halves, all of it, in order") {
  std::vector<double> taken;
  double time = 0;
  const auto go = [&](double dt) {
    // Until 50 s short steps alone are taken.
    if (time < 50 && dt > 30) throw NumericsError("too long");
    taken.push_back(dt);
    time += dt;
  };
  yard::in_halves(200, 4, go);
  CHECK(taken == std::vector<double>{25, 25, 50, 100});
  CHECK(time == 200);
}

TEST_CASE("a step that short ones do not help is refused, and no part of it taken twice") {
  int asked = 0;
  CHECK_THROWS_AS(yard::in_halves(100, 3,
                                  [&](double) {
                                    ++asked;
                                    throw NumericsError("never");
                                  }),
                  NumericsError);
  CHECK(asked == 4); // whole, half, quarter, eighth
  CHECK_THROWS_AS(yard::in_halves(100, 3, [](double) { throw std::invalid_argument("wrong"); }),
                  std::invalid_argument);
}
