#include <lowspot/report/disturbed.hpp>

#include "catch.hpp"

#include "report/sample_sheet.hpp"

using namespace lowspot;
using namespace lowspot::report;

TEST_CASE("a swale disturbs its sides as well as its bed") {
  sample::SheetMaker maker;
  const SheetScene scene = maker.scene(); // the sheets stay those of the pipes
  std::fill(maker.ground.elevation.begin(), maker.ground.elevation.end(), 31.0);
  const double pipes = disturbed_area(scene);
  site::Regrade swale;
  swale.name = "way", swale.kind = "swale", swale.width = 2 * sample::foot;
  const double bed = 31.0 - sample::foot; // 1 ft deep, sides 1 to 3: 8 ft from rim to rim
  swale.path = {{5 * sample::foot, 8 * sample::foot, bed}, {45 * sample::foot, 8 * sample::foot, bed}};
  maker.site.designs[0].regrades = {swale};
  const double square_feet = (disturbed_area(scene) - pipes) / (sample::foot * sample::foot);
  CHECK(square_feet > 0.9 * 40 * 8);
  CHECK(square_feet < 48 * 8); // the sides run round both ends
  maker.site.designs[0].standing = {"way"};
  CHECK(disturbed_area(scene) == Approx(pipes));
}

TEST_CASE("pits and boxes are dug, too") {
  sample::SheetMaker maker;
  const SheetScene scene = maker.scene();
  const double pipes = disturbed_area(scene);
  site::Outlet pit;
  pit.name = "pit", pit.kind = "dry well", pit.well = {1.5, 5, 1.2};
  site::Inlet box;
  box.name = "box", box.grate.width = 0.5, box.grate.length = 0.4;
  maker.site.designs[0].outlets.push_back(pit);
  maker.site.designs[0].inlets = {box};
  CHECK(disturbed_area(scene) == Approx(pipes + 1.7));
  CHECK(disturbed_area(maker.nothing_proposed()) == 0);
}
