// The columns of a gauge's record, read into SI.
#pragma once
#include <string>
#include <vector>

#include <lowspot/base/csv.hpp>

namespace lowspot::rain {

// The rows of a record as they stand, in rising order of time.
struct GaugeRows {
  std::string file;           // as messages name it
  std::vector<double> times;  // s
  std::vector<double> depths; // m, as the rows have them
  std::vector<int> lines;     // of the table, from 1
  bool read_off = false;      // whether a label ends its interval: a gauge that was read by hand
  bool running_total = false; // whether a depth is all that had fallen so far
};

// Finds the columns of time and rain by their names and reads them. Dates may stand in one column or as
// "date" and "time" in two. Throws InputError with file and line where a label, a depth or a unit cannot be
// told, where times do not rise or where the record is longer than any that is run.
GaugeRows read_gauge_rows(const CsvTable& table);

} // namespace lowspot::rain
