#include <lowspot/checks/pump_discharge.hpp>

#include "round_yard.hpp"

using namespace lowspot;
using namespace lowspot::checks;

namespace {
// Two troughs across the yard, at x = 30 and 90 ft, a ridge between them, sides shut.
SimpleYard two_hollows() {
  return yard_in_feet([](double x, double) { return 100 + 0.02 * std::abs(std::abs(x - 60) - 30); });
}
site::Design pumped(const Point& feet) {
  site::Design design = round_design(97.5, 97.5);
  design.runs[0].path = {{20 * foot, 10 * foot}, {40 * foot, 10 * foot}};
  design.runs[0].to = "sump";
  site::Outlet& pump = design.outlets[0];
  pump.name = "sump";
  pump.kind = "pump";
  pump.at = {40 * foot, 10 * foot};
  pump.well = {0.2, 1.6, 4 * foot, 1, site::not_given};
  pump.pump_rate = 1e-3, pump.pump_on = 0.3, pump.pump_off = 0.1;
  pump.discharge = Point{feet.x * foot, feet.y * foot};
  return design;
}
results::CheckRecord found(const site::Design& design) {
  const SimpleYard yard = two_hollows();
  return the(check_design(yard.site, yard.ground, design), "pump_discharge", "sump");
}
} // namespace

TEST_CASE("a pump whose water runs back to the low spot it drains fails") {
  const auto in_it = found(pumped({30, 30}));
  CHECK(outcome(in_it) == "fail");
  CHECK_THAT(in_it.found, ContainsSubstring("moves the same water round"));
  CHECK(outcome(found(pumped({55, 30}))) == "fail"); // up on the slope to it
}

TEST_CASE("a pump that leads its water over the ridge passes") {
  const auto beyond = found(pumped({70, 10}));
  CHECK(outcome(beyond) == "pass");
  CHECK_THAT(beyond.found, ContainsSubstring("another low spot"));
}

TEST_CASE("a grate that leads to the pump counts as much as its pit") {
  site::Design design = pumped({70, 10});
  site::Inlet grate;
  grate.name = "grate";
  grate.at = {90 * foot, 10 * foot};
  grate.grate = {0.3, 0.3, 0.5, 0.5};
  grate.depth = 1 * foot;
  grate.pipe = 0.1;
  grate.to = "sump";
  design.inlets = {grate};
  CHECK(outcome(found(design)) == "fail");
}

TEST_CASE("a pump without a place to let out in the yard is not asked") {
  site::Design design = pumped({30, 30});
  design.outlets[0].discharge.reset();
  const SimpleYard yard = two_hollows();
  for (const auto& record : check_design(yard.site, yard.ground, design))
    CHECK(record.id != "pump_discharge");
}
