// The cut sheet as people print it and as a table for a spreadsheet.
#pragma once
#include <cmath>
#include <limits>
#include <string>
#include <vector>

#include <lowspot/job/cut_sheet.hpp>
#include <lowspot/job/dug.hpp>
#include <lowspot/job/rod_text.hpp>
#include <lowspot/report/work_levels.hpp>
#include <lowspot/results/check_record.hpp>

namespace lowspot::report {

// What one cut sheet shows.
struct CutSheetPage {
  const site::Site& site;                                       // with the design
  const job::CutSheet& sheet;                                   // what to dig
  std::string version;                                          // of the program
  job::RodUnit rod = job::RodUnit::eighths;                     // how the crew's rod is divided
  double instrument = std::numeric_limits<double>::quiet_NaN(); // height of instrument [m], when known
  double tolerance = 0.00635;                                   // m
  // as dug, where it was measured
  std::vector<job::DugCheck> checks = {};
  std::vector<job::Belly> bellies = {}; // stretches that would hold water
  std::string cost = {};                // what the difference costs, one sentence; empty: not asked
  std::vector<WorkLevel> works = {};    // beside the runs
  std::vector<results::CheckRecord> not_kept = {}; // limits, of those that were looked at
  bool without_run = false;                        // of those that need a run of the storm none was looked at
};

// One sheet: how to use it, a table and a profile a run, quantities, cautions. Large type, black on white.
std::string cut_sheet_html(const CutSheetPage& page);
// Columns: run, station, then from_head, ground, invert, bottom and cut in the units of the site, which end
// the heads (_ft or _m), and rod readings as text. Pits, channels and basins follow: no station, their top as
// ground.
std::string cut_sheet_csv(const CutSheetPage& page);
// What the rod reads at an elevation [m]: "4' 3 5/8\"", "above HI" where the instrument stands below it;
// empty without an instrument or an elevation.
std::string rod_reading(const CutSheetPage& page, double elevation);
// Whether every reading is within the tolerance and no stretch would hold water.
bool dug_right(const CutSheetPage& page);
// What that is worth: "The trench is right: lay the pipe.", or how many stations were read of how many.
std::string dug_verdict(const CutSheetPage& page);
// "dig 3/8 in more at 0+30", "fill 1/2 in with tamped stone at 0+62", "0+10 is right".
std::string dug_sentence(const job::DugCheck& check, job::RodUnit rod, bool feet);
std::string belly_sentence(const job::Belly& belly, job::RodUnit rod, bool feet);

} // namespace lowspot::report
