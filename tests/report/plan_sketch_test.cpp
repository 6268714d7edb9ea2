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
