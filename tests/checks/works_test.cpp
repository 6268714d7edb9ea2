#include "round_yard.hpp"

using namespace lowspot;
using namespace lowspot::checks;

TEST_CASE("works are laid out on the ground as the design leaves it") {
  const SimpleYard yard = level_yard();
  site::Design design = round_design();
  site::Regrade plane;
  plane.name = "lower", plane.kind = "plane";
  plane.outline = yard.site.outline;
  plane.surface = {{0, 0, 99 * foot}, {1, 0, 99 * foot}, {0, 1, 99 * foot}};
  design.regrades = {plane};
  const Works works = lay_out(yard.site, yard.ground, design);
  REQUIRE(works.sheet.runs.size() == 1);
  CHECK(works.run(works.sheet.runs[0]).name == "main");
  CHECK(works.sheet.runs[0].stations.front().ground == Approx(99 * foot));
  CHECK(lay_out(yard.site, yard.ground, round_design()).sheet.runs[0].stations.front().ground ==
        Approx(100 * foot));
}

TEST_CASE("distances to outlines, lines and points") {
  const Polygon square = {{0, 0}, {2, 0}, {2, 2}, {0, 2}};
  Point nearest;
  CHECK(distance_to_outline(square, {3, 1}, &nearest) == Approx(1));
  CHECK(nearest.x == Approx(2));
  CHECK(distance_to_outline(square, {-3, -4}) == Approx(5));
  CHECK(distance_to_outline(square, {1, 1}) == 0);
  site::KeepOff shape;
  shape.shape = square, shape.closed = true;
  CHECK(distance_to_shape(shape, {1, 1}) == 0);
  shape.closed = false; // an open line of three pieces: its west side is not there
  CHECK(distance_to_shape(shape, {0, 1}) == Approx(1));
  shape.shape = {{3, 4}};
  CHECK(distance_to_shape(shape, {0, 0}) == Approx(5));
}

TEST_CASE("what soaks and what sheds") {
  site::Design design = round_design();
  design.outlets[0].kind = "dry well";
  design.outlets[0].well.plan = M_PI;
  site::Outlet pump;
  pump.name = "pump", pump.kind = "pump", pump.discharge = Point{5, 5};
  design.outlets.push_back(pump);
  const std::vector<Place> list = places(design);
  REQUIRE(list.size() == 3);
  CHECK(list[0].soaks);
  CHECK(list[0].radius == Approx(1));
  CHECK_FALSE(list[1].sheds);
  CHECK(list[2].sheds);
  CHECK(list[2].at.x == 5);
}

TEST_CASE("works that go along a line or cover ground, and places along a line") {
  site::Design design;
  design.channels.resize(1);
  design.channels[0].path = {{0, 0}, {4, 0}}, design.channels[0].width = 0.1;
  design.basins.resize(1);
  design.basins[0].outline = {{0, 0}, {2, 0}, {2, 2}};
  design.amends.resize(1);
  design.amends[0].outline = {{0, 0}, {2, 0}, {2, 2}};
  design.regrades.resize(1);
  design.regrades[0].kind = "swale", design.regrades[0].path = {{0, 0, 1}, {4, 0, 1}};
  design.regrades[0].width = 0.6;
  const std::vector<Spread> list = spread_works(design);
  REQUIRE(list.size() == 4);
  CHECK(list[0].half == Approx(0.05));
  CHECK_FALSE(list[0].soaks);
  CHECK(list[1].filled);
  CHECK(list[1].soaks);
  CHECK(list[1].line.size() == 4); // closed
  CHECK_FALSE(list[2].soaks);
  CHECK(list[3].half == Approx(0.3));
  const std::vector<Point> points = points_along({{0, 0}, {1, 0}, {1, 0.02}});
  REQUIRE(points.size() == 22);
  CHECK(points[20].x == Approx(1));
  CHECK(points.back().y == Approx(0.02));
  CHECK(points_along({{3, 4}}).size() == 1);
}
