// Rod readings and elevations as crews write them.
#pragma once
#include <optional>
#include <string>
#include <string_view>

namespace lowspot::terrain {

// A reading with how it was written.
struct RodReading {
  double metres = 0;    // m
  bool inches = false;  // was written in feet and inches
  bool decimal = false; // was written with a decimal fraction in the book's unit
};

// A decimal ("4.35", in units of `unit` metres); feet, inches and fractions ("4' 3 5/8\"", "4-3 5/8",
// "4 3 5/8"); feet, inches and eighths ("4-3-5", "4.3.5"); or a length with its own unit ("1.32 m", "132
// cm"). Empty when it is none of these.
std::optional<RodReading> parse_rod_reading(std::string_view text, double unit);

} // namespace lowspot::terrain
