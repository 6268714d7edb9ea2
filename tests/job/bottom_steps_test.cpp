#include "catch.hpp"
#include "designs.hpp"

#include <lowspot/job/bottom_steps.hpp>

using namespace lowspot;

TEST_CASE("the bottom steps up where a bed of stone ends, and the pipe does not") {
  SimpleYard yard = level_yard();
  site::Design design = round_design();
  site::Run carrier = design.runs[0], leg = carrier;
  leg.name = "leg", carrier.name = "carrier";
  leg.path = {{10 * foot, 10 * foot}, {60 * foot, 10 * foot}}, leg.inverts = {98.5 * foot, 98 * foot};
  carrier.path = {{60 * foot, 10 * foot}, {110 * foot, 10 * foot}},
  carrier.inverts = {98 * foot, 97.5 * foot};
  leg.to = carrier.from = "elbow";
  design.fittings = {{"elbow", {60 * foot, 10 * foot}}};
  const auto steps = [&](double bedding, job::RodUnit rod) {
    carrier.bedding = bedding;
    design.runs = {leg, carrier};
    return job::bottom_steps(job::make_cut_sheet(yard.site, design, yard.ground, 5 * foot), rod);
  };
  CHECK(steps(0.5 * inch, job::RodUnit::eighths) == "up 1 1/2 in at elbow"); // 2 in under the leg
  CHECK(steps(0.5 * inch, job::RodUnit::millimetres) == "up 38 mm at elbow");
  CHECK(steps(2 * inch, job::RodUnit::eighths).empty());
  CHECK(steps(3 * inch, job::RodUnit::eighths).empty()); // down
  site::Utility gas;
  gas.name = "gas", gas.path = {{60 * foot, 0}, {60 * foot, 20 * foot}}; // across the elbow
  yard.site.utilities = {gas};
  CHECK(steps(0.5 * inch, job::RodUnit::eighths) == "up 1 1/2 in at elbow");
}

TEST_CASE("where several legs meet it is said from which of them the bottom steps up") {
  SimpleYard yard = level_yard();
  site::Design design = round_design();
  site::Run west = design.runs[0], east = west, carrier = west;
  west.name = "west", east.name = "east", carrier.name = "carrier";
  west.path = {{10 * foot, 10 * foot}, {60 * foot, 10 * foot}}, west.inverts = {98.75 * foot, 98.25 * foot};
  east.path = {{90 * foot, 10 * foot}, {60 * foot, 10 * foot}}, east.inverts = {98.5 * foot, 98 * foot};
  carrier.path = {{60 * foot, 10 * foot}, {110 * foot, 10 * foot}};
  carrier.inverts = {98 * foot, 97.5 * foot}, carrier.bedding = 0.5 * inch;
  west.to = east.to = carrier.from = "tee";
  design.fittings = {{"tee", {60 * foot, 10 * foot}}};
  design.runs = {west, east, carrier};
  const auto steps = [&] {
    return job::bottom_steps(job::make_cut_sheet(yard.site, design, yard.ground, 5 * foot),
                             job::RodUnit::eighths);
  };
  CHECK(steps() == "up 1 1/2 in from east at tee"); // the west leg comes in 3 in higher, on 2 in of stone
  design.runs[0].inverts = {98.5 * foot, 98.02 * foot};
  CHECK(steps() == "up 1 1/4 in from west at tee, 1 1/2 in from east at tee");
}
