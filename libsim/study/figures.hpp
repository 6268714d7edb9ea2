// The numbers of a run that matter, in one list: what bands are made of.
#pragma once
#include <string>
#include <vector>

#include <lowspot/results/record.hpp>
#include <lowspot/site/site.hpp>

namespace lowspot::study {

// One number of a run with what it is of.
struct Figure {
  std::string what;  // "standing_hours", "soggy_hours", "peak_flow", "volume", "days_below_half", ...
  std::string place; // area, bed, run or side
  std::string unit;  // "h", "d", "m3/s", "m3" or ""
  double value = 0;  // in `unit`
  bool open = false; // hours that had not ended with the simulated time: at least the value
};

// Standing and soggy hours of each judged area (of the wettest spot where no area is judged), the peak at the
// foot of each run that ends at an outlet and the volume out of all of them, beds after the storm and in the
// dry spell, peak and volume over each side. last_runs: see runs_to_outlets(); end_of_rain: s.
std::vector<Figure> figures_of(const results::DesignRecord& record, const std::vector<std::string>& last_runs,
                               double end_of_rain);

// The runs of a design that end at an outlet of it; none for the yard as it is (null).
std::vector<std::string> runs_to_outlets(const site::Design* design);

} // namespace lowspot::study
