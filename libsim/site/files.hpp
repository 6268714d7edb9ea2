// Tables and rasters that a site file names.
#pragma once
#include <string>
#include <vector>

#include <lowspot/site/table_reader.hpp>

namespace lowspot::site {

// A file name as written. Throws InputError when there is no such file in the site's folder, with the nearest
// name.
std::string file_named(const TableReader& table, const std::string& key);

// The unit in a column's heading after its name: "flow_m3_per_s" after "flow" leaves "m3/s"; brackets and
// underlines are only dress. Empty when there is none.
std::string unit_in_heading(const std::string& heading, const std::string& name);

// A figure that changes with time.
struct TimeSeries {
  std::vector<double> time;   // s, rising
  std::vector<double> value;  // SI
  bool units_assumed = false; // bare numbers under headings without a unit: read as SI
};

// A table with the columns `time` and `name`. The unit stands in each cell ("10 min"), or in the heading
// ("time_min", "time [min]", "flow_m3_per_s", "flow (gal/min)"). Throws InputError for times that do not
// rise.
TimeSeries read_time_series(const std::filesystem::path& file, const std::string& name, Dimension dimension);

} // namespace lowspot::site
