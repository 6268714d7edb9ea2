#include <lowspot/drain/mouth_capacity.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "books.hpp"
#include "catch.hpp"

using namespace lowspot::drain;
using namespace lowspot::drain::testing;

namespace {

constexpr double held = 99.8;   // the level in the carrier, all along [m]
constexpr double opening = 0.1; // of the short pipe [m]
constexpr double box = 0.09;    // m2
constexpr double clear = 0.045; // m2
constexpr double rim = 1.2;     // m

// A grate whose short pipe leads into a carrier that is wide and stands full under water.
Layout drowned_grate() {
  Layout layout;
  layout.runs = {solid_run("carrier", 0, 10, 99.2, 99.1)};
  layout.runs[0].pipe.diameter = 0.5;
  layout.runs[0].to = "end";
  Outlet end;
  end.name = "end";
  end.kind = OutletKind::submerged;
  end.at = {10, 0};
  end.level = held;
  layout.outlets = {end};
  Fitting grate;
  grate.name = "grate";
  grate.at = {5, 0};
  grate.chamber = {box, 99.4, 100};
  grate.mouth = Mouth{100, rim, clear, 0, true, {{5, 0}}};
  const double area = std::numbers::pi / 4 * opening * opening;
  grate.link = {"carrier", 99.5, opening, 0.61 * area * std::sqrt(9.81 * opening)};
  layout.fittings = {grate};
  return layout;
}

// A drain with so much water over its grate that the grate does not draw it down.
struct Lake {
  explicit Lake(const Layout& layout) : drain(layout, level_ground), none(drain.stations().size(), 0.0) {}
  // The ground gives a part of what the grate offers for so long [s]; the volume that went in [m3].
  double feed(double depth, double part, double dt, double time) {
    const std::vector<double> over{depth};
    double went_in = 0;
    for (double t = 0; t < time - 0.5 * dt; t += dt) {
      const std::vector<MouthWater> water{{0, 1, 100, depth, in[0], 0, 1e9}};
      drain.mouth_capacity(water, dt, in);
      in[0] *= part;
      Inflows inflows;
      inflows.through_mouth = in;
      went_in += in[0] * dt;
      came_up += drain.advance(dt, inflows, none, over).from_mouth[0];
    }
    return went_in;
  }
  Drain drain;
  std::vector<double> none, in{0.0};
  double came_up = 0;
};

// The flow at which the grate's law for the water on the ground over the level in the box agrees with
// Torricelli's for that level over the carrier [m3/s].
double exact_flow(double depth) {
  double low = held, high = 100 + depth, out = 0;
  for (int i = 0; i < 60; ++i) {
    const double level = 0.5 * (low + high);
    double slope = 0;
    const double in = mouth_flow(rim, clear, std::min(depth, 100 + depth - level), slope);
    out = 0.61 * std::numbers::pi / 4 * opening * opening * std::sqrt(2 * 9.81 * (level - held));
    (out < in ? low : high) = level;
  }
  return out;
}

} // namespace

TEST_CASE("a drowned grate passes what the level below leaves it, whatever the step and what came before") {
  for (const double depth : {0.03, 0.1, 0.3})
    for (const double dt : {0.5, 2.0, 10.0, 60.0}) {
      CAPTURE(depth, dt);
      const double exact = exact_flow(depth);
      Lake lake(drowned_grate());
      lake.feed(depth, 1, dt, 600);
      CHECK_THAT(lake.feed(depth, 1, dt, 600), WithinRel(600 * exact, 3e-3)); // the carrier loses a little
      lake.feed(depth, 0.3, dt, 600);
      lake.feed(depth, 1, dt, 600);
      CHECK_THAT(lake.feed(depth, 1, dt, 600), WithinRel(600 * exact, 3e-3));
      lake.feed(2 * depth, 1, dt, 600);
      lake.feed(depth, 1, dt, 600);
      CHECK_THAT(lake.feed(depth, 1, dt, 600), WithinRel(600 * exact, 3e-3));
    }
}

TEST_CASE(
    "a box with room takes what its grate gives, and next to nothing comes up over the step that fills it") {
  Lake lake(drowned_grate());
  double slope = 0;
  const std::vector<MouthWater> water{{0, 1, 100, 0.05, 0, 0, 1e9}};
  std::vector<double> in(1);
  lake.drain.mouth_capacity(water, 1, in);
  CHECK_THAT(in[0], WithinRel(mouth_flow(rim, clear, 0.05, slope), 1e-9));
  // 54 litres of room, and a carrier to fill. What goes in in a step is spread evenly over it, which in long
  // steps brings some of it up again.
  for (const double dt : {0.5, 2.0, 10.0, 600.0}) {
    CAPTURE(dt);
    Lake filling(drowned_grate());
    const double went_in = filling.feed(0.05, 1, dt, std::max(20.0, dt));
    CHECK(went_in < 0.75 * in[0] * std::max(20.0, dt));
    CHECK(filling.came_up <= (dt > 2 ? 0.03 : 0) * went_in);
  }
  // Two parts of one mouth take by their shares.
  const std::vector<MouthWater> parts{{0, 0.25, 100, 0.05, 0, 0, 1e9}, {0, 0.75, 100, 0.05, 0, 0, 1e9}};
  std::vector<double> shared(2);
  lake.drain.mouth_capacity(water, 2, in);
  lake.drain.mouth_capacity(parts, 2, shared);
  CHECK_THAT(shared[1], WithinRel(3 * shared[0], 1e-9));
  CHECK_THAT(shared[0] + shared[1], WithinRel(in[0], 1e-6));
}

TEST_CASE("a mouth that takes nothing in is offered nothing") {
  Layout layout = drowned_grate();
  layout.fittings[0].mouth->takes_in = false;
  Lake lake(layout);
  for (const double dt : {1.0, 600.0}) CHECK(lake.feed(0.3, 1, dt, 600) == 0);
}

// Each of them would take all that the pipe can pass: asked one after the other, they would do so by turns.
TEST_CASE("a drowned grate and the drowned cap of the trench that it leads to share the pipe steadily") {
  for (const double dt : {2.0, 10.0}) {
    CAPTURE(dt);
    Layout layout = drowned_grate();
    layout.runs = {straight_run("carrier", 0, 10, 99.3, 99.2)};
    layout.runs[0].pipe.diameter = 0.075;
    layout.runs[0].to = "end";
    layout.outlets[0].kind = OutletKind::daylight;
    Books books(layout);
    const double depth = 0.3;
    std::fill(books.ponded.begin(), books.ponded.end(), depth);
    std::vector<double> in{0.0};
    double in_all = 0, came_up = 0, least = 1, most = 0;
    for (double t = 0; t < 1200; t += dt) {
      books.drain.cap_capacity(books.ponded, dt, books.cap);
      const std::vector<MouthWater> water{{0, 1, 100, depth, in[0], 0, 1e9}};
      books.drain.mouth_capacity(water, dt, in);
      Inflows inflows{books.cap, books.soil, books.pipe, in};
      const Outcome outcome = books.drain.advance(dt, inflows, books.ponded, std::vector<double>{depth});
      if (t < 600) continue;
      came_up += std::accumulate(outcome.to_surface.begin(), outcome.to_surface.end(), outcome.from_mouth[0]);
      in_all += in[0] * dt;
      least = std::min(least, in[0]);
      most = std::max(most, in[0]);
    }
    CHECK(in_all > 0);
    CHECK(most < 1.01 * least);
    CHECK(came_up < 1e-3 * in_all);
  }
}
