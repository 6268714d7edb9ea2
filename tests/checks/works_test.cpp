#include "round_yard.hpp"

using namespace lowspot;
using namespace lowspot::checks;

TEST_CASE("works are laid out on the ground as the design leaves it") {
  const SimpleYard yard = level_yard();
  site::Design design = round_design();
  design.regrades = {levelled_to(yard, 99)};
  const Works works = lay_out(yard.site, yard.ground, design);
  CHECK(terrain::elevation_at(works.ground, {60 * foot, 20 * foot}) == Approx(99 * foot));
  CHECK(terrain::elevation_at(*works.as_is, {60 * foot, 20 * foot}) == Approx(100 * foot));
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

TEST_CASE(
    "what is dug besides trenches: boxes and the pipes from them too, but nothing that stands already") {
  site::Design design = round_design();
  site::Inlet box;
  box.name = "box", box.at = {50 * foot, 20 * foot}, box.to = "main";
  box.grate.width = box.grate.length = 1 * foot, box.pipe = 4 * inch;
  design.inlets = {box};
  std::vector<Digging> dug = other_digging(design);
  REQUIRE(dug.size() == 2);
  CHECK(dug[0].filled);
  CHECK(area({dug[0].line.begin(), dug[0].line.end() - 1}) == Approx(foot * foot));
  CHECK(dug[1].line.back().x == Approx(50 * foot)); // straight to the run
  CHECK(dug[1].line.back().y == Approx(10 * foot));
  CHECK(dug[1].half == Approx(5 * inch));
  design.inlets[0].at.y = 10.2 * foot; // over the run
  CHECK(other_digging(design).size() == 1);
  design.outlets[0].kind = "dry well";
  design.outlets[0].well = {1, 4, 1, 1, 1e-6};
  CHECK(pits(design).size() == 1);
  design.standing = {"box", "fence"};
  CHECK(other_digging(design).empty());
  CHECK(pits(design).empty());
}

TEST_CASE("a swale is as wide as its sides go into the ground of today") {
  const SimpleYard yard = level_yard();
  site::Design design;
  site::Regrade swale;
  swale.name = "swale", swale.kind = "swale", swale.width = 2 * foot;
  swale.path = {{10 * foot, 20 * foot, 99.5 * foot}, {110 * foot, 20 * foot, 98.5 * foot}};
  design.regrades = {swale};
  const Works works = lay_out(yard.site, yard.ground, design);
  const std::vector<Digging> dug = other_digging(design);
  REQUIRE(dug.size() == 1);
  // A foot deep at its middle: 1 ft of bed and 3 ft of side; nine inches at 35 ft.
  const auto clear = [&](double x, double y) {
    return clear_of(works, dug[0], {x * foot, y * foot}, 2 * foot);
  };
  CHECK(clear(60, 25) == Approx(1 * foot).margin(0.06));
  CHECK(clear(35, 25) == Approx(1.75 * foot).margin(0.06));
  CHECK(clear(60, 23.5) == 0);
  CHECK(clear(60, 20.5) == 0);
  CHECK(clear(60, 30) == Approx(9 * foot)); // farther than was looked
}
