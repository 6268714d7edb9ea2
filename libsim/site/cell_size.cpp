#include <lowspot/site/cell_size.hpp>

#include <algorithm>
#include <cmath>
#include <vector>

#include <lowspot/base/limits.hpp>
#include <lowspot/base/quantity.hpp>

namespace lowspot::site {
namespace {
double metres(const std::string& size) {
  return parse_quantity(size, Dimension::length).value;
}

// How much the cells that count (those with their middle inside) are more or less than a side, as a share.
double misfit(double side, double cell) {
  return std::abs(std::floor(side / cell + 0.5) * cell / side - 1);
}

bool divides(const Box& box, double cell) {
  constexpr double even = 1e-3;
  return misfit(box.high.x - box.low.x, cell) < even && misfit(box.high.y - box.low.y, cell) < even;
}

} // namespace

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
  static const std::vector<std::string> more_feet = {"7 in",  "8 in",  "10 in", "1 ft",  "15 in", "16 in",
                                                     "18 in", "20 in", "2 ft",  "30 in", "3 ft",  "4 ft",
                                                     "5 ft",  "6 ft",  "10 ft", "12 ft", "20 ft", "25 ft"};
  static const std::vector<std::string> more_metres = {
      "0.16 m", "0.18 m", "0.2 m", "0.25 m", "0.3 m", "0.4 m", "0.5 m", "0.6 m", "0.75 m", "0.8 m",
      "1 m",    "1.25 m", "1.5 m", "2 m",    "2.5 m", "3 m",   "4 m",   "5 m",   "6 m",    "8 m"};
  const auto& sizes = units == "ft" ? in_feet : in_metres;
  const auto first = std::find_if(sizes.begin(), sizes.end(), [&](const std::string& size) {
    return cells_in(box, metres(size)) <= usual_cells;
  });
  const std::string finest = first == sizes.end() ? sizes.back() : *first;
  if (divides(box, metres(finest))) return finest;
  constexpr double coarser = 1.4;
  for (const std::string& size : units == "ft" ? more_feet : more_metres)
    if (metres(size) > metres(finest) && metres(size) < coarser * metres(finest) &&
        divides(box, metres(size)))
      return size;
  return finest;
}

} // namespace lowspot::site
