// The table of a hole test: one row a reading, or one row a hole with a bare rate of fall.
#pragma once
#include <string>
#include <vector>

#include <lowspot/base/csv.hpp>
#include <lowspot/measure/hole_test.hpp>
#include <lowspot/site/site.hpp>

namespace lowspot::site {

// A hole as the table describes it.
struct BookedHole {
  std::string name;           // as in the table
  int line = 0;               // of its first row
  double depth = not_given;   // of the hole below the ground [m]
  measure::HoleTest test;     // diameter, readings or rate, presoak
  bool presoak_known = false; // the table says whether and how long
  int month = 0;              // of the test, 1 to 12; 0: no date
};

// Columns by name in any order: `hole`, `diameter`, `depth` (of the hole), `water_depth` or `drop` (since the
// hole was filled) against `time`, or `rate`; `presoak` ("yes", "no" or a time), `date` (year-month-day),
// `note`. The unit of each stands in its heading ("diameter_in", "time_min") or in each cell ("6 in"). What
// stands once for a hole need not be repeated. A note with the word refilled (or filled) begins a new fall.
// Times may be clock times (14:05); a hole whose first row has a drop was filled at
// time 0, which only counted times have. Throws InputError naming file, line and column.
std::vector<BookedHole> read_hole_table(const CsvTable& table);

} // namespace lowspot::site
