// The unit that stands in the name of a table's column.
#pragma once
#include <optional>
#include <string>

namespace lowspot::rain {

// Metres in the unit of length named by a column such as "rain_mm" or "Depth (in.)"; empty when none is. Only
// whole words count, since "rain" itself holds "in"; "rain in mm" is millimetres.
std::optional<double> length_unit_of(const std::string& column);
// Whether a column counts in a part of its unit, as "tenths of mm" or "rain (0.01 in)" does.
bool counts_parts_of_a_unit(const std::string& column);
// Seconds in the unit of time named by a column such as "time_min" or "duration (hours)"; empty when none is.
std::optional<double> time_unit_of(const std::string& column);

} // namespace lowspot::rain
