#include "catch.hpp"

#include <lowspot/report/plan_sketch.hpp>

#include "report/sample_sheet.hpp"

using namespace lowspot;
using namespace lowspot::report;

TEST_CASE("a sketch keeps to its room whatever the shape of the yard") {
  sample::SheetMaker maker;
  const SheetScene scene = maker.scene();
  for (const Size room : {Size{280, 280}, Size{200, 400}, Size{500, 170}}) {
    const PlanSketch sketch{scene.map, *scene.built, nullptr, {}, false, {}, room};
    const Size size = sketch_size(sketch);
    CHECK(size.width <= std::max(room.width, 150.0) + 1e-9);
    CHECK(size.height <= room.height + 1e-9);
  }
}

TEST_CASE("stations, corners, arrows and water each leave their ink") {
  sample::SheetMaker maker;
  const SheetScene scene = maker.scene();
  const auto ink = [](const PlanSketch& sketch) {
    const sample::Pixels pixels = sample::decode(sketch_png(sketch));
    return pixels.inked(0, 0, pixels.width, pixels.height);
  };
  const PlanSketch bare{scene.map, *scene.built};
  PlanSketch stations = bare, corners = bare, arrows = bare, water = bare;
  stations.stations = scene.cut;
  corners.corners = job::fixed_corners(scene.site());
  arrows.fall_arrows = true;
  water.water = MapQuantity::max_depth;
  const double least = ink(bare);
  CHECK(least > 0.01);
  for (const PlanSketch& more : {stations, corners, arrows, water}) CHECK(ink(more) > least);
}

TEST_CASE("contours a twentieth of a foot apart read differently") {
  const Units feet = units_for("ft"), metres = units_for("m");
  CHECK(contour_text(100.05 * 0.3048, 0.05 * 0.3048, feet) == "100.05");
  CHECK(contour_text(100.1 * 0.3048, 0.05 * 0.3048, feet) == "100.10");
  CHECK(contour_text(100.5 * 0.3048, 0.5 * 0.3048, feet) == "100.5");
  CHECK(contour_text(100 * 0.3048, 0.3048, feet) == "100.0");
  CHECK(contour_text(30.102, 0.002, metres) == "30.102");
  CHECK(contour_text(30.1, 0.1, metres) == "30.10");
}

TEST_CASE("the plan of a design that shapes the ground shows the ground that it leaves") {
  sample::SheetMaker maker;
  const SheetScene scene = maker.scene();
  PlanSketch plan{scene.map, *scene.built};
  plan.fall_arrows = true;
  const std::string before = sketch_png(plan);
  Field& own = maker.comparison.designs[1].own_elevation;
  own = maker.comparison.elevation;
  for (std::size_t cell = 0; cell < own.size(); ++cell)
    own[cell] = 40 - 0.1 * maker.comparison.grid.x(maker.comparison.grid.column(cell));
  CHECK(sketch_png(plan) != before);
  const Point fall = fall_at(plan, 30, 5, 2);
  CHECK(fall.x == Approx(0.1));
  CHECK(fall.y == Approx(0).margin(1e-9));
}

namespace {

// Of a plan to dig from, or else of the owner's.
double ink_of(sample::SheetMaker& maker, bool to_dig_from) {
  const SheetScene scene = maker.scene();
  PlanSketch plan{scene.map, *scene.built};
  if (to_dig_from) plan.stations = scene.cut;
  const sample::Pixels pixels = sample::decode(sketch_png(plan));
  return pixels.inked(0, 0, pixels.width, pixels.height);
}

} // namespace

TEST_CASE("a plan to dig from shows gas lines and lot lines, the owner's does not") {
  sample::SheetMaker maker;
  const double digging = ink_of(maker, true), owner = ink_of(maker, false);
  const Grid& grid = maker.comparison.grid;
  site::KeepOff lot; // beside the works, so that they have the same stations
  lot.kind = "lot line";
  lot.shape = {{grid.x(1), grid.y(grid.ny - 2)}, {grid.x(grid.nx - 2), grid.y(grid.ny - 2)}};
  maker.site.keep_offs = {lot};
  const double with_lot = ink_of(maker, true);
  CHECK(with_lot > digging);
  site::Utility gas;
  gas.name = "gas", gas.path = {{grid.x(2), grid.y(grid.ny - 4)}, {grid.x(grid.nx / 2), grid.y(grid.ny - 4)}};
  maker.site.utilities = {gas};
  CHECK(ink_of(maker, true) > with_lot);
  CHECK(ink_of(maker, false) == owner);
}

TEST_CASE("the name of a line that runs in under a house is drawn over the house, not hidden by it") {
  sample::SheetMaker maker;
  const auto red = [&] {
    const SheetScene scene = maker.scene();
    PlanSketch plan{scene.map, *scene.built};
    plan.stations = scene.cut;
    const sample::Pixels pixels = sample::decode(sketch_png(plan));
    return std::count_if(pixels.argb.begin(), pixels.argb.end(), [](std::uint32_t argb) {
      const int r = (argb >> 16) & 0xff, g = (argb >> 8) & 0xff;
      return r - g > 60;
    });
  };
  CHECK(red() == 0);
  const Box house = bounds(maker.site.buildings.at(0).outline);
  const double middle = 0.5 * (house.low.y + house.high.y), edge = 0.05 * (house.high.x - house.low.x);
  site::Utility gas;
  gas.name = "gas";
  gas.path = {{house.low.x + edge, middle}, {house.high.x - edge, middle}};
  maker.site.utilities = {gas};
  CHECK(red() > 20); // the line itself is under the house
}

TEST_CASE("a plan to dig from shows the trees whose roots are spoken of, where they stand") {
  sample::SheetMaker maker;
  const Grid& grid = maker.comparison.grid;
  site::Tree tree;
  tree.name = "maple", tree.trunk = 0.35, tree.at = {grid.x(grid.nx - 8), grid.y(grid.ny - 8)};
  const double bare = ink_of(maker, true), owner = ink_of(maker, false);
  maker.site.trees = {tree};
  CHECK(ink_of(maker, true) > bare);
  CHECK(ink_of(maker, false) == owner);
}
