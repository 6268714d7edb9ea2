#include "report/sample_site.hpp"

namespace sample {

Polygon rectangle(double x0, double y0, double x1, double y1) {
  return {{x0 * foot, y0 * foot}, {x1 * foot, y0 * foot}, {x1 * foot, y1 * foot}, {x0 * foot, y1 * foot}};
}

lowspot::site::Design drain_design() {
  using namespace lowspot::site;
  Design design;
  design.name = "3 in along the patio";
  Run leg;
  leg.name = "west leg";
  leg.path = {{12 * foot, 16 * foot}, {24 * foot, 16 * foot}};
  leg.pipe = {"3 in corrugated, slotted", 0.0762, 0.09, 0.017, 0.002, 0.61};
  leg.trench_width = 0.3048;
  leg.trench_depth = 0.508;
  leg.stone.name = "No. 57, rounded, washed";
  leg.cap.name = "sod";
  leg.fall = 0.0104;
  leg.to = "tee";
  Run carrier = leg;
  carrier.name = "carrier";
  carrier.path = {{24 * foot, 16 * foot}, {24 * foot, 0}};
  carrier.pipe.name = "3 in corrugated, solid";
  carrier.pipe.slot_area = 0;
  carrier.has_trench = false;
  carrier.fall = 0.02;
  carrier.from = "tee";
  carrier.to = "fence outlet";
  design.runs = {leg, carrier};
  design.fittings = {{"tee", {24 * foot, 16 * foot}}};
  Outlet outlet;
  outlet.name = "fence outlet";
  outlet.kind = "daylight";
  outlet.at = {24 * foot, 0};
  design.outlets = {outlet};
  return design;
}

lowspot::site::Site site() {
  using namespace lowspot::site;
  Site yard;
  yard.name = "Sample back yard";
  yard.outline = rectangle(0, 0, 60, 40);
  Area patio;
  patio.name = "patio";
  patio.kind = "concrete";
  patio.impervious = true;
  patio.outline = rectangle(10, 18, 34, 34);
  Area bed;
  bed.name = "long bed";
  bed.kind = "mulched bed";
  bed.outline = rectangle(10, 13, 40, 18);
  bed.plants = Plants{};
  yard.areas = {patio, bed};
  Building house;
  house.name = "house";
  house.outline = rectangle(8, 34, 46, 40);
  yard.buildings = {house};
  Wall edging;
  edging.name = "raised edging";
  edging.line = {{40 * foot, 13 * foot}, {40 * foot, 18 * foot}};
  yard.walls = {edging};
  yard.gauges = {{"bed corner", {24 * foot, 15 * foot}}};
  yard.designs = {drain_design()};
  return yard;
}

} // namespace sample
