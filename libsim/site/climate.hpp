// Months of the climate table, by name.
#pragma once
#include <string>
#include <string_view>

#include <lowspot/site/table_reader.hpp>

namespace lowspot::site {

// The month that `name` means: whole, or its first three letters. Throws InputError naming the months there
// are.
const catalog::ClimateMonth& month_named(const TableReader& table, std::string_view key,
                                         const std::string& name);

// "drained", "moist", "wet" or "dry".
StartMoisture start_named(const std::string& word);

// Water content that a soil starts with [m3/m3], and the thickness that stands saturated over its tight layer
// [m].
double start_content(const Soil& soil, StartMoisture start);
double start_perched(const Soil& soil, StartMoisture start);

} // namespace lowspot::site
