#include "catch.hpp"

#include <lowspot/results/georeference.hpp>

#include "results/sample_comparison.hpp"

using namespace lowspot::results;

TEST_CASE("a yard without a reference system keeps metres on its own grid") {
  const auto place = georeference(sample::yard());
  CHECK(place.unit_name == "m");
  CHECK(place.x[1] - place.x[0] == Approx(0.3048));
  CHECK_THAT(place.wkt, ContainsSubstring("LOCAL_CS"));
}

TEST_CASE("a yard in a reference system keeps the coordinates of its site file") {
  auto all = sample::yard();
  all.crs = "EPSG:6549";
  auto place = georeference(all);
  CHECK(place.unit_name == "foot");
  CHECK(place.x[1] == Approx(1.5)); // cells of one foot
  CHECK(place.y_top == Approx(40.0));
  CHECK(place.authority == "EPSG:6549");
  all.crs = "PROJCS[\"x\",AUTHORITY[\"EPSG\",\"1\"]]";
  place = georeference(all);
  CHECK(place.authority.empty());
  CHECK(place.wkt == all.crs);
}
