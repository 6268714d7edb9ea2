#include <cmath>
#include <functional>
#include <limits>
#include <vector>

#include <lowspot/drain/layout.hpp>

#include "catch.hpp"
#include "layouts.hpp"

using namespace lowspot::drain;
using namespace lowspot::drain::testing;

namespace {

std::string all(const Layout& layout) {
  std::string text;
  for (const std::string& sentence : problems(layout)) text += sentence + "\n";
  return text;
}

} // namespace

TEST_CASE("a sound layout has no problems") {
  CHECK(all(trench_and_carrier()).empty());
}

TEST_CASE("pipe that falls the wrong way is refused, but computed as built") {
  Layout layout = trench_and_carrier();
  layout.runs[1].inverts = {99.4, 99.45};
  CHECK_THAT(all(layout), ContainsSubstring("\"carrier\" falls the wrong way"));
  layout.as_built = true;
  CHECK(all(layout).empty());
}

TEST_CASE("unknown names and dead ends are named") {
  Layout layout = trench_and_carrier();
  layout.runs[0].to = "tea";
  CHECK_THAT(all(layout), ContainsSubstring("goes to \"tea\""));
  layout = trench_and_carrier();
  layout.runs.pop_back();
  CHECK_THAT(all(layout), ContainsSubstring("fitting \"tee\" leads nowhere"));
  CHECK_THAT(all(layout), ContainsSubstring("outlet \"end\" has no run"));
  layout = trench_and_carrier();
  layout.runs[1].to.clear();
  layout.outlets.clear();
  CHECK_THAT(all(layout), ContainsSubstring("\"carrier\" leads nowhere"));
}

TEST_CASE("a loop is found") {
  Layout layout = trench_and_carrier();
  layout.fittings.push_back({"corner", {15, 0}});
  layout.runs[1].to = "corner";
  Run back = solid_run("back", 15, 10, 99.2, 99.2);
  back.from = "corner";
  back.to = "tee";
  Run out = solid_run("out", 15, 20, 99.2, 99.1);
  out.from = "corner";
  out.to = "end";
  layout.runs.push_back(out);
  CHECK(all(layout).empty());
  layout.runs.push_back(back);
  CHECK_THAT(all(layout), ContainsSubstring("closes a loop"));
}

TEST_CASE("an outlet above its pipe and a step up at a fitting are refused") {
  Layout layout = trench_and_carrier();
  layout.outlets[0].invert = 99.3;
  CHECK_THAT(all(layout), ContainsSubstring("outlet \"end\" lies 100 mm above"));
  layout = trench_and_carrier();
  layout.runs[1].inverts[0] = 99.45;
  CHECK_THAT(all(layout), ContainsSubstring("begins 50 mm above the foot of run \"leg\""));
}

TEST_CASE("figures that cannot be are refused") {
  Layout layout = trench_and_carrier();
  layout.runs[0].stone.porosity = 0;
  CHECK_THAT(all(layout), ContainsSubstring("porosity"));
  layout = trench_and_carrier();
  layout.runs[1].inverts.push_back(99);
  CHECK_THAT(all(layout), ContainsSubstring("3 inverts for 2 points"));
  layout = trench_and_carrier();
  layout.runs[0].pipe.diameter = 0; // water in its stone could not go on into a solid carrier
  CHECK_THAT(all(layout), ContainsSubstring("leads to no stone or outlet"));
}

namespace {

using Spoil = std::function<double&(Layout&)>;

// A trench, a box with a grate, a lid, a pump and a dry well: every figure that a layout has.
Layout all_kinds() {
  Layout layout = trench_and_carrier();
  layout.fittings[0].chamber = {0.1, 99.3, 99.9};
  layout.fittings[0].mouth = Mouth{99.9, 1, 0.05, 0, true, {{10, 0}}};
  layout.fittings[0].loss = 0.2;
  layout.fittings.push_back({"grate", {3, 0}, {0.1, 99.6, 99.9}, {}, {"leg", 99.65, 0.1, 1e-3}, 0.1});
  layout.runs[0].fabric = {0.5, 2};
  layout.outlets[0].kind = OutletKind::pop_up;
  Outlet pump{"pump", OutletKind::pump, {25, 0}}, well{"well", OutletKind::dry_well, {30, 0}};
  pump.chamber = {0.3, 98.9, 99.9};
  pump.pump = {1e-3, 99.1, 98.95, 0, 0};
  pump.mouth = Mouth{99.9, 1, 0.1, 0, false, {{25, 0}}};
  well.chamber = {0.3, 98, 99.8, 1e-5, 0.5, 3, 99.5};
  well.mouth = Mouth{99.9, 1, 0.1, 0, false, {{30, 0}}};
  layout.outlets.insert(layout.outlets.end(), {pump, well});
  layout.runs.push_back(solid_run("to pump", 20, 25, 99.3, 99.2));
  layout.runs.push_back(solid_run("to well", 25, 30, 99.3, 99.2));
  layout.runs[2].path = {{20, 1}, {25, 0}};
  layout.runs[3].path = {{25, 2}, {30, 0}};
  layout.runs[2].to = "pump";
  layout.runs[3].to = "well";
  Outlet pond{"pond", OutletKind::submerged, {40, 0}};
  pond.level = 99.25;
  pond.times = {0, 60};
  pond.levels = {99.2, 99.3};
  layout.outlets.push_back(pond);
  layout.runs.push_back(solid_run("to pond", 35, 40, 99.3, 99.2));
  layout.runs[4].to = "pond";
  layout.taps = {{"spout", "leg", {2, 0}, {101, 0.3, 0.01, 0, false, {{2, 0}}}}};
  return layout;
}

} // namespace

TEST_CASE("figures that are endless or no numbers are refused, wherever they stand") {
  REQUIRE(all(all_kinds()).empty());
  const double endless = std::numeric_limits<double>::infinity();
  const std::vector<Spoil> figures = {
      [](Layout& l) -> double& { return l.station_spacing; },
      [](Layout& l) -> double& { return l.runs[0].path[1].y; },
      [](Layout& l) -> double& { return l.runs[0].inverts[1]; },
      [](Layout& l) -> double& { return l.runs[0].pipe.diameter; },
      [](Layout& l) -> double& { return l.runs[0].pipe.manning_n; },
      [](Layout& l) -> double& { return l.runs[0].pipe.slot_area; },
      [](Layout& l) -> double& { return l.runs[0].pipe.discharge_coefficient; },
      [](Layout& l) -> double& { return l.runs[0].trench_width; },
      [](Layout& l) -> double& { return l.runs[0].bedding; },
      [](Layout& l) -> double& { return l.runs[0].stone.porosity; },
      [](Layout& l) -> double& { return l.runs[0].stone.conductivity; },
      [](Layout& l) -> double& { return l.runs[0].stone.forchheimer_b; },
      [](Layout& l) -> double& { return l.runs[0].fabric.permittivity; },
      [](Layout& l) -> double& { return l.runs[0].fabric.clogging; },
      [](Layout& l) -> double& { return l.runs[0].cap.conductivity; },
      [](Layout& l) -> double& { return l.runs[0].cap.depth; },
      [](Layout& l) -> double& { return l.runs[0].bottom_conductivity; },
      [](Layout& l) -> double& { return l.fittings[0].at.x; },
      [](Layout& l) -> double& { return l.fittings[0].chamber.area; },
      [](Layout& l) -> double& { return l.fittings[0].mouth->level; },
      [](Layout& l) -> double& { return l.fittings[0].mouth->rim; },
      [](Layout& l) -> double& { return l.fittings[0].mouth->area; },
      [](Layout& l) -> double& { return l.fittings[0].mouth->lift; },
      [](Layout& l) -> double& { return l.fittings[1].link.invert; },
      [](Layout& l) -> double& { return l.fittings[1].link.height; },
      [](Layout& l) -> double& { return l.fittings[1].link.capacity; },
      [](Layout& l) -> double& { return l.outlets[0].at.y; },
      [](Layout& l) -> double& { return l.outlets[0].opening_head; },
      [](Layout& l) -> double& { return l.outlets[0].weep_area; },
      [](Layout& l) -> double& { return l.outlets[1].pump.rate; },
      [](Layout& l) -> double& { return l.outlets[1].pump.on; },
      [](Layout& l) -> double& { return l.outlets[2].chamber.soak_conductivity; },
      [](Layout& l) -> double& { return l.outlets[2].chamber.soak_plan; },
      [](Layout& l) -> double& { return l.outlets[2].chamber.soak_perimeter; },
      [](Layout& l) -> double& { return l.outlets[2].chamber.soak_top; },
      [](Layout& l) -> double& { return l.outlets[3].levels[1]; },
      [](Layout& l) -> double& { return l.outlets[3].times[1]; },
      [](Layout& l) -> double& { return l.taps[0].at.x; },
      [](Layout& l) -> double& { return l.taps[0].mouth.level; },
  };
  for (std::size_t k = 0; k < figures.size(); ++k)
    for (const double bad : {endless, -endless, std::nan("")}) {
      CAPTURE(k, bad);
      Layout layout = all_kinds();
      figures[k](layout) = bad;
      CHECK_FALSE(problems(layout).empty());
    }
  Layout layout = all_kinds();
  layout.outlets[3].times = {};
  layout.outlets[3].levels = {};
  layout.outlets[3].level = std::nan("");
  CHECK_THAT(all(layout), ContainsSubstring("\"pond\" has a level outside that is not a number"));
}

TEST_CASE("runs that would be cut into more stations than can be computed are refused") {
  Layout layout = trench_and_carrier();
  layout.station_spacing = 1e-4;
  CHECK_THAT(all(layout), ContainsSubstring("at most 100000"));
  layout = trench_and_carrier();
  layout.runs[1].path[1].x = 1e12;
  CHECK_THAT(all(layout), ContainsSubstring("stations"));
}
