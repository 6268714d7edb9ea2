#include <cmath>
#include <numbers>

#include <lowspot/drain/fitting_loss.hpp>
#include <lowspot/drain/pipe_section.hpp>

#include "books.hpp"
#include "catch.hpp"
#include "figures.hpp"

using namespace lowspot;
using namespace lowspot::drain;
using namespace lowspot::drain::testing;

namespace {

// A full solid pipe between two held levels, straight or with a turn in it; its flow.
double full_flow_of(const Polyline& path) {
  Layout layout;
  Run run = solid_run("pipe", 0, 1, 99, 99);
  run.path = path;
  run.inverts.assign(path.size(), 99.0);
  run.pipe.manning_n = 0.012;
  run.from = "box";
  run.to = "end";
  layout.runs = {run};
  layout.station_spacing = 0.25;
  Fitting box;
  box.name = "box";
  box.at = path.front();
  box.chamber = {4.0, 98.9, 101};
  layout.fittings = {box};
  layout.outlets = {{"end", OutletKind::submerged, path.back()}};
  layout.outlets[0].level = 99.3;
  layout.taps = {{"spout", "box", path.front(), {102, 1, 0.1, 0, false, {path.front()}}}};
  Drain drain(layout, [](Point) { return 102.0; });
  // Found by adding what leaves until the box stands at 99.6.
  double flow = 5e-3;
  for (int k = 0; k < 4000; ++k) {
    const std::vector<double> in{flow};
    Inflows inflows;
    inflows.into_tap = in;
    drain.advance(5, inflows, {});
    flow = std::max(0.0, drain.outlet_flow(0) + 2e-2 * (99.6 - drain.fitting_level(0)));
  }
  REQUIRE_THAT(drain.fitting_level(0), WithinAbs(99.6, 1e-4));
  return drain.outlet_flow(0);
}

} // namespace

TEST_CASE("a sharp turn costs what Weisbach measured") {
  CHECK(bend_loss(0) == 0);
  CHECK_THAT(bend_loss(std::numbers::pi / 2), WithinRel(0.98475, 1e-6));
  CHECK_THAT(bend_loss(std::numbers::pi / 4), WithinAbs(0.183, 1e-3));
  // A curve of many small turns costs next to nothing.
  CHECK(18 * bend_loss(std::numbers::pi / 36) < 0.06);
  CHECK_THAT(turn_angle({1, 0}, {0, -3}), WithinRel(std::numbers::pi / 2, 1e-12));
}

TEST_CASE("bends are counted where they lie, and arrivals by the angle they join at") {
  Run run = solid_run("r", 0, 10, 99, 99);
  run.path = {{0, 0}, {4, 0}, {4, 4}, {8, 8}};
  CHECK(bend_losses(run, 0, 3.9) == 0);
  CHECK_THAT(bend_losses(run, 3.9, 4.1), WithinRel(bend_loss(std::numbers::pi / 2), 1e-12));
  CHECK_THAT(bend_losses(run, 7, 9), WithinRel(bend_loss(std::numbers::pi / 4), 1e-12));
  Layout layout = trench_and_carrier();
  CHECK(arrival_loss(layout, connect(layout), 0) == 0); // straight on
  CHECK(arrival_loss(layout, connect(layout), 1) == 0); // an outlet
  layout.runs[1].path = {{10, 0}, {10, -10}};
  layout.outlets[0].at = {10, -10};
  CHECK_THAT(arrival_loss(layout, connect(layout), 0), WithinRel(0.98475, 1e-6));
  layout.fittings[0].loss = 0.3;
  CHECK(arrival_loss(layout, connect(layout), 0) == 0.3);
  CHECK(entry_loss(layout, connect(layout), 1) == 0);
  layout.fittings[0].chamber = {0.09, 99, 100};
  CHECK(entry_loss(layout, connect(layout), 1) == entrance_loss);
}

TEST_CASE("head, friction and bends balance in a full pipe") {
  // 0.3 m = (friction + 0.5 + bends) of velocity heads; no exit loss.
  const double area = std::numbers::pi / 4 * 0.01, radius = 0.025;
  const auto exact = [&](double bends) {
    const double friction = 8 * 2 * gravity * 0.012 * 0.012 / std::pow(radius, 4.0 / 3.0);
    return area * std::sqrt(2 * gravity * 0.3 / (friction + entrance_loss + bends));
  };
  CHECK_THAT(full_flow_of({{0, 0}, {8, 0}}), WithinRel(exact(0), 0.005));
  const double bent = full_flow_of({{0, 0}, {4, 0}, {4, 4}});
  CHECK_THAT(bent, WithinRel(exact(0.98475), 0.005));
  figures::record("drain", "full pipe with an entrance and a right-angled bend", "flow, L/s",
                  exact(0.98475) * 1e3, bent * 1e3, figures::share(0.005));
}
