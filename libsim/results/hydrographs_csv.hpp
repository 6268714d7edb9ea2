// hydrographs.csv: rain, flows, depths and levels against time.
#pragma once
#include <string>
#include <vector>

#include <lowspot/results/record.hpp>

namespace lowspot::results {

// A table with a header row: time_s, rain_m_per_s, then each series of each design as "DESIGN:SERIES". One
// row an output time; where designs keep different times the rows are all of them and values are linear in
// between.
std::string hydrographs_csv(const Comparison& comparison);

// Rain at a time [m/s], from the steps of Comparison::rain_intensity; none outside the storm.
double rain_at(const Comparison& comparison, double time);
// A series at a time, linear between its times; the ends hold beyond them. Not a number when it is empty.
double value_at(const std::vector<double>& times, const std::vector<double>& values, double time);

} // namespace lowspot::results
