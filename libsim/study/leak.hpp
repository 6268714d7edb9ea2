// Rain, spring or leak: whether rain explains what was seen, and if not, how large a constant flow would.
#pragma once
#include <string>
#include <vector>

#include <lowspot/site/site.hpp>
#include <lowspot/terrain/ground.hpp>
#include <lowspot/yard/yard.hpp>

namespace lowspot::study {

// One thing seen, against rain and a leak.
struct LeakFinding {
  std::string seen;          // name of what was seen
  std::string place;         // area, or "the place seen"
  bool without_rain = false; // it was seen wet without rain
  double lasted = 0;         // s that it stood wet, as seen
  double by_rain_alone =
      0; // s that it stands wet in the simulation, followed for seen_followed times as long
  bool rain_explains = false; // it stands as long by rain alone, or longer
  // The least constant flow at the lowest point of the place with which it stays wet as long as was seen lies
  // between these two [m3/s]; both 0 when rain explains it, no numbers when no flow up to the largest tried
  // does.
  double flow_low = 0, flow_high = 0; // m3/s
  std::string sentence;               // what this means, in plain words and the site's units
  std::vector<std::string> tests;     // what to do before anyone digs, the cheapest first
  int runs = 0;                       // that were made
};

// Simulates the yard as it is in the rain that was seen (or in the site's own storm and then no rain, which
// is wetter than any dry spell) and, where the place dries too soon, again with a constant flow, bracketed by
// factors of four and halved in the logarithm until known within a tenth. Wet is: a square foot of the place
// stands deeper than the target depth; without rain also soft ground (results/soggy.hpp). A
// coarse ground is enough: each run is a whole storm. Throws InputError for a place that has no open ground.
LeakFinding explain_seen(const site::Site& site, const terrain::Ground& ground, const site::Seen& seen);

// How long the place that was seen stays wet in the rain that was seen, without any leak [s], `longest` at
// most.
double wet_after_rain(const site::Site& site, const terrain::Ground& ground, const site::Seen& seen,
                      double longest, surface::Method method);

} // namespace lowspot::study
