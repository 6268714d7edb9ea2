// Quantities with units as people write them: "3 in", "0.25 in/hr", "6' 4 3/8\"", "1 in per 8 ft", "2 %".
#pragma once
#include <string>
#include <string_view>

namespace lowspot {

// What a quantity measures, each with its SI unit.
enum class Dimension {
  length,          // m
  area,            // m2
  volume,          // m3
  time,            // s
  speed,           // m/s: rain, conductivity, evapotranspiration
  flow,            // m3/s
  slope,           // m/m: "2 %", "1 in per 8 ft", "1/4 in/ft", "1:50"
  angle,           // rad
  per_time,        // 1/s: permittivity of fabric
  per_length,      // 1/m
  area_per_length, // m2/m: openings of a pipe, "20 cm2/m", "1 in2/ft"
  temperature,     // degrees Celsius
};

// What a text says as a quantity.
struct ParsedQuantity {
  bool ok = false;     // the text could be read
  double value = 0;    // SI
  std::string problem; // when not ok: what is wrong, without the file and key
};

// Reads one quantity. Never throws. A bare number is refused, since the unit would be a guess.
ParsedQuantity parse_quantity(std::string_view text, Dimension dimension);

// "length", "rate of rain or seepage", ... for messages.
std::string dimension_name(Dimension dimension);
// An example that parses, e.g. "\"6 in\"", for messages.
std::string dimension_example(Dimension dimension);

} // namespace lowspot
