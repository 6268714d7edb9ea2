#include <lowspot/drain/network.hpp>

#include "catch.hpp"
#include "layouts.hpp"

using namespace lowspot;
using namespace lowspot::drain;
using namespace lowspot::drain::testing;

TEST_CASE("stations cut runs into equal pieces no longer than the spacing") {
  Layout layout = trench_and_carrier();
  layout.station_spacing = 0.7;
  const std::vector<Station> stations = make_stations(layout, level_ground);
  REQUIRE(stations.size() == 30);
  CHECK_THAT(stations[0].length, WithinRel(10.0 / 15, 1e-12));
  CHECK(stations[14].run == 0);
  CHECK(stations[15].run == 1);
  CHECK(stations[15].trench_width == 0);
  CHECK_THAT(stations[7].distance, WithinRel(5.0, 1e-12));
}

TEST_CASE("inverts are straight between the points of a bent path") {
  Layout layout;
  Run run = straight_run("bent", 0, 0, 0, 0);
  run.path = {{0, 0}, {4, 0}, {4, 2}};
  run.inverts = {99.0, 98.8, 98.0};
  run.bedding = 0.05;
  layout.runs = {run};
  layout.station_spacing = 1;
  const std::vector<Station> stations = make_stations(layout, [](Point p) { return 100 + 0.1 * p.y; });
  REQUIRE(stations.size() == 6);
  CHECK_THAT(stations[1].invert, WithinRel(99.0 - 0.2 * 1.5 / 4, 1e-12));
  CHECK_THAT(stations[4].invert, WithinRel(98.6, 1e-12));
  CHECK_THAT(stations[4].trench_bottom, WithinRel(98.55, 1e-12));
  CHECK_THAT(stations[5].ground, WithinRel(100.15, 1e-12));
  CHECK_THAT(stations[5].cap_bottom, WithinRel(100.10, 1e-12));
  CHECK_THAT(stations[5].at.x, WithinRel(4, 1e-12));
}
