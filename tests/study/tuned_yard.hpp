// Small yards with something to tune, for tests: a bowl with a drain across its middle.
#pragma once
#include "simple_yard.hpp"

#include <cmath>
#include <string>

// 5 m by 3 m of tight soil, 18 mm of rain in half an hour; judged: the whole yard, an hour after the rain.
inline SimpleYard yard_to_tune(const std::function<double(double, double)>& elevation) {
  using namespace lowspot;
  SimpleYard yard = simple_yard(20, 12, 0.25, elevation);
  make_pervious(yard);
  add_whole_area(yard, "yard");
  yard.site.storm.pattern = "blocks";
  yard.site.storm.blocks = {{1800, 1e-5}};
  yard.site.storm.dry = 3 * 3600.0;
  yard.site.target.clear_within = 3600;
  yard.site.designs = {simple_drain(yard, 0.4)};
  site::Tune tune;
  tune.design = "drain";
  tune.cover = 0.02;
  tune.least_fall = 0.005;
  yard.site.tune = tune;
  return yard;
}

inline SimpleYard bowl_to_tune() {
  return yard_to_tune([](double x, double y) { return 1.0 + 0.02 * std::hypot(x - 2.5, y - 1.5); });
}

inline lowspot::site::CapChoice sod_cap() {
  lowspot::site::CapChoice cap;
  cap.name = "sod";
  cap.depth = 0.1;
  cap.of_topsoil = true;
  return cap;
}

inline lowspot::site::CapChoice open_cap() {
  lowspot::site::CapChoice cap;
  cap.name = "open stone";
  cap.of_stone = true;
  return cap;
}
