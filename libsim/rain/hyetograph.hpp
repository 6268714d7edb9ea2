// Rain as a stepwise intensity.
#pragma once
#include <string>
#include <vector>

#include <lowspot/site/site.hpp>

namespace lowspot::rain {

// Intensity intensity[k] [m/s] holds from time[k] to time[k + 1] [s]; time has one entry more than intensity.
struct Hyetograph {
  std::vector<double> time;          // s, rising
  std::vector<double> intensity;     // m/s
  std::vector<std::string> warnings; // sentences about what the data leave in doubt

  double depth() const;          // m
  double end_of_rain() const;    // s: end of the last step with rain in it, 0 for none
  double peak_intensity() const; // m/s
  double at(double t) const;     // m/s, 0 outside
  double
  next_change(double t) const; // the first time after t at which the intensity changes; infinity if none
};

// Throws InputError for a storm that cannot be made (missing table, unknown pattern, bad gauge file).
Hyetograph make_hyetograph(const site::Site& site);

} // namespace lowspot::rain
