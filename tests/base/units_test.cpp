#include "catch.hpp"

#include <lowspot/base/units.hpp>

using namespace lowspot;

TEST_CASE("Units have their legal factors") {
  CHECK(find_unit("in")->factor == 0.0254);
  CHECK(find_unit("Feet")->factor == 0.3048);
  CHECK(find_unit("gallons")->factor == Approx(3.785411784e-3).epsilon(1e-15));
  CHECK(find_unit("acre")->factor == Approx(4046.8564224).epsilon(1e-15));
  CHECK(find_unit("GPM")->time == -1);
  CHECK(find_unit("yr")->factor == 31557600);
}

TEST_CASE("A plural in s is understood, a lone letter is not a plural") {
  CHECK(find_unit("hrs")->factor == 3600);
  CHECK(find_unit("days")->factor == 86400);
  CHECK_FALSE(find_unit("ms"));
  CHECK_FALSE(find_unit("furlong"));
  CHECK_FALSE(find_unit(""));
}

TEST_CASE("Powers multiply factor and dimension") {
  const Unit square = to_power(*find_unit("ft"), 2);
  CHECK(square.factor == 0.3048 * 0.3048);
  CHECK(square.length == 2);
  const Unit inverse = to_power(*find_unit("min"), -1);
  CHECK(inverse.factor == 1. / 60);
  CHECK(inverse.time == -1);
}

TEST_CASE("A misspelt unit finds its neighbour") {
  CHECK(nearest_unit("gallns") == "gallon");
}
