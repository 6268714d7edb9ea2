// Names of units as people write them, each with its factor to SI and its powers of length and time.
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace lowspot {

// A unit of some powers of length and time, or of an angle.
struct Unit {
  double factor = 1;  // SI value of one
  int length = 0;     // power of length
  int time = 0;       // power of time
  bool angle = false; // radians, degrees: neither length nor time
};

// Whatever the case, singular or plural: "in", "Inches", "gpm", "L", "sf". Empty when unknown.
std::optional<Unit> find_unit(std::string_view name);
// The unit to a whole power, e.g. ("ft", 2). An angle has no powers.
Unit to_power(const Unit& unit, int power);
// The known name nearest to a misspelt one, or empty.
std::string nearest_unit(std::string_view name);

} // namespace lowspot
