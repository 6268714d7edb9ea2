// A bowl of 5 by 4 m whose tight layer decides how long water stands in it after half an hour of rain.
#pragma once
#include <cmath>

#include "simple_yard.hpp"

// Its soil is for the test to give.
inline SimpleYard slow_bowl() {
  SimpleYard yard =
      simple_yard(10, 8, 0.5, [](double x, double y) { return 1.0 + 0.02 * std::hypot(x - 2.5, y - 2); });
  make_pervious(yard);
  add_whole_area(yard, "bowl");
  yard.site.storm.pattern = "blocks";
  yard.site.storm.blocks = {{1800, 2e-5}};
  yard.site.storm.dry = 48 * 3600.0;
  yard.site.target.clear_within = 12 * 3600;
  return yard;
}
