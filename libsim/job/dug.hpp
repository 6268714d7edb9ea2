// As dug: readings taken in the open trench against the cut sheet, and the drain as it would lie in it.
#pragma once
#include <string>
#include <vector>

#include <lowspot/base/csv.hpp>
#include <lowspot/job/cut_sheet.hpp>

namespace lowspot::job {

// The trench bottom as it was found at one station.
struct DugReading {
  std::string run;    // its name
  double station = 0; // up from the outlet [m]
  double bottom = 0;  // of the trench, elevation [m]
  int line = 0;       // of the table
};

// In which units a table of readings is written.
struct DugUnits {
  double coordinates = 0.3048; // metres in one unit of stations and elevations
  double readings = 0.3048;    // metres in one unit of decimal rod readings
  double instrument = 0;       // height of instrument [m]; not a number: readings are refused
};

// A table `station, reading` or `station, elevation`, with `run` where the design has more than one (without
// it the first run in the sheet that has such a station is meant), and `on` = "bottom" (of the trench, as a
// rule), "invert" or "pipe" (its top). Throws InputError with file, line and column.
std::vector<DugReading> read_dug(const CsvTable& table, const CutSheet& sheet, const DugUnits& units);

// What to do at a station.
enum class DugAnswer { accept, dig_more, fill };
// One reading against the sheet.
struct DugCheck {
  DugReading reading;                   // what was found
  double wanted = 0;                    // trench bottom, elevation [m]
  double too_high = 0;                  // found minus wanted [m]
  DugAnswer answer = DugAnswer::accept; // for the tolerance that was asked for
};
// Compares each reading with the sheet; within `tolerance` [m] it is accepted.
std::vector<DugCheck> check_dug(const std::vector<DugReading>& readings, const CutSheet& sheet,
                                double tolerance);

// A low stretch that holds water when the drain has run empty.
struct Belly {
  std::string run;         // its name
  double from = 0, to = 0; // stations [m], from below to above
  double depth = 0;        // of standing water at its deepest [m]
  double volume = 0;       // m3 in the pipe
};

// A design as it lies in the trench that was dug.
struct AsDug {
  site::Design design;        // with the inverts that were found; as_dug is set
  std::vector<Belly> bellies; // deepest first
};
// The design laid in the trench as it was dug: bedding of even thickness, straight between readings, as
// designed beyond the first and the last of a run.
AsDug lay_as_dug(const site::Design& design, const CutSheet& sheet, const std::vector<DugReading>& readings);

} // namespace lowspot::job
