#include "catch.hpp"

#include <lowspot/report/page.hpp>

using namespace lowspot::report;

TEST_CASE("the yard as it is has a colour of its own, designs share five") {
  CHECK(series_class(0) == 0);
  CHECK(series_class(1) == 1);
  CHECK(series_class(5) == 5);
  CHECK(series_class(6) == 1);
}
