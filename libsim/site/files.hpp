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
  bool units_assumed = false; // bare numbers under headings without a unit, in either column
  bool time_assumed = false;  // such numbers among the times: seconds
  bool value_assumed = false; // such numbers among the values: in the unit that the caller named
};

// A table with the columns `time` and `name`. The unit stands in each cell ("10 min"), or in the heading
// ("time_min", "time [min]", "flow_m3_per_s", "flow (gal/min)"). Throws InputError for times that do not
// rise, and for values below zero unless they are elevations. `bare_unit`: SI value of 1 where a value has no
// unit.
TimeSeries read_time_series(const std::filesystem::path& file, const std::string& name, Dimension dimension,
                            double bare_unit = 1, bool elevations = false);
// Warns of a table whose bare times, read as seconds, are over within minutes or before the rain is: they
// were hours or minutes. Of a gauge's rain nobody knows here how long it lasts.
void warn_of_short_series(const TableReader& table, const std::string& key, const TimeSeries& series);

} // namespace lowspot::site
