// Small layouts the tests share.
#pragma once
#include <string>

#include <lowspot/drain/drain.hpp>

namespace lowspot::drain::testing {

inline Run straight_run(const std::string& name, double x0, double x1, double z0, double z1) {
  Run run;
  run.name = name;
  run.path = {{x0, 0}, {x1, 0}};
  run.inverts = {z0, z1};
  run.pipe = {0.1, 0.015, 20e-4, 0.61};
  run.trench_width = 0.3;
  run.stone = {0.38, 0.08, 200};
  run.cap = {0.02, 0.05};
  return run;
}

inline Run solid_run(const std::string& name, double x0, double x1, double z0, double z1) {
  Run run = straight_run(name, x0, x1, z0, z1);
  run.has_trench = false;
  run.trench_width = 0;
  run.pipe.slot_area = 0;
  return run;
}

// Ten metres of trench, then ten of solid pipe to daylight; ground at 100 m.
inline Layout trench_and_carrier() {
  Layout layout;
  layout.runs = {straight_run("leg", 0, 10, 99.5, 99.4), solid_run("carrier", 10, 20, 99.4, 99.2)};
  layout.runs[0].to = "tee";
  layout.runs[1].from = "tee";
  layout.runs[1].to = "end";
  layout.fittings = {{"tee", {10, 0}}};
  layout.outlets = {{"end", OutletKind::daylight, {20, 0}}};
  return layout;
}

inline double level_ground(Point) {
  return 100.0;
}

} // namespace lowspot::drain::testing
