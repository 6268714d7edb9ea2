#include <lowspot/site/cell_size.hpp>

#include <cmath>
#include <vector>

#include <lowspot/base/limits.hpp>
#include <lowspot/base/quantity.hpp>

namespace lowspot::site {

double cells_in(const Box& box, double cell) {
  return std::ceil((box.high.x - box.low.x) / cell - 1e-9) *
         std::ceil((box.high.y - box.low.y) / cell - 1e-9);
}

double memory_for(double cells) {
  return cells * limits::grid_cell_bytes;
}

std::string default_cell(const Box& box, const std::string& units) {
  static const std::vector<std::string> in_feet = {"6 in", "9 in", "1 ft",  "18 in", "2 ft",
                                                   "3 ft", "5 ft", "10 ft", "20 ft"};
  static const std::vector<std::string> in_metres = {"0.15 m", "0.2 m", "0.3 m", "0.5 m", "0.75 m",
                                                     "1 m",    "1.5 m", "3 m",   "6 m"};
  const auto& sizes = units == "ft" ? in_feet : in_metres;
  for (const std::string& size : sizes)
    if (cells_in(box, parse_quantity(size, Dimension::length).value) <= usual_cells) return size;
  return sizes.back();
}

} // namespace lowspot::site
