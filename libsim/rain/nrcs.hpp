// The 24-hour rainfall distributions of the US soil conservation service (NRCS, NEH 630 chapter 4).
#pragma once
#include <string>
#include <vector>

namespace lowspot::rain {

// How the rain of a day falls over its hours.
struct DayDistribution {
  std::vector<double> hour;      // from 0 to 24
  std::vector<double> share;     // of the day's depth fallen by then, 0 to 1
  double at(double hours) const; // linear between the ordinates
};

// type: "i", "ia", "ii" or "iii"; empty distribution for any other.
DayDistribution nrcs_distribution(const std::string& type);

} // namespace lowspot::rain
