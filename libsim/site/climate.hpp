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

// Evaporation as gardeners and weather services give it: inches or millimetres a day.
std::string per_day(double speed, const TableReader& table);
// Warns of a `reference_et` [m/s] beyond that of a hot dry day.
void warn_of_evaporation(const TableReader& table, double reference_et);

// "drained", "moist", "wet" or "dry".
StartMoisture start_named(const std::string& word);

// Water content that a soil starts with [m3/m3], and the thickness that stands saturated over its tight layer
// [m].
double start_content(const Soil& soil, StartMoisture start);
double start_perched(const Soil& soil, StartMoisture start);

} // namespace lowspot::site
