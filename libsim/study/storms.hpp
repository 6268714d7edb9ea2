// Hours that water stands against the depth of the storm, before and after: what happens when it rains more
// than the design was made for, and the storm at which it fails.
#pragma once
#include <string>
#include <vector>

#include <lowspot/rain/hyetograph.hpp>
#include <lowspot/site/site.hpp>
#include <lowspot/study/executor.hpp>
#include <lowspot/terrain/ground.hpp>
#include <lowspot/yard/yard.hpp>

namespace lowspot::study {

// One storm.
struct StormLevel {
  double return_period = 0;  // years; not a number where the storm is a share of the site's own
  double depth = 0;          // m
  double peak_intensity = 0; // m/s
  rain::Hyetograph rain;     // as it falls
};

// The storms of 1, 2, 5, 10, 25, 50 and 100 years as far as the site's depth-duration table reaches, in its
// pattern and duration; without a table the site's own storm a quarter, half, three quarters, once, one and a
// half times, twice and three times as heavy.
std::vector<StormLevel> storm_levels(const site::Site& site);

// One design (or the yard as it is) over the storms; lists are one a storm.
struct StormCurve {
  std::string design;             // its name, or "as is"
  std::vector<double> hours;      // h, of the judged area that stands longest
  std::vector<std::string> place; // that area
  std::vector<char> open;         // still standing when the simulated time ended: at least so long
  std::vector<char> met;          // the target for standing water; beds are not judged here
  std::vector<double> p10, p90;   // h, over the plausible soils; empty without
  std::vector<char> p90_open;     // at P90 it had not ended with the simulated time; empty without
  std::vector<double> works;      // share of the plausible soils in which the target is met; empty without
  double fails_at = 0;     // depth of rain [m]; infinite: holds in all storms; 0: fails in the smallest
  double fails_period = 0; // years, in between in the logarithm; not a number without return periods
};

// The storms with what each design makes of them.
struct StormStudy {
  std::vector<StormLevel> levels;     // the lightest first
  std::vector<StormCurve> curves;     // as is first
  double clear_within = 0;            // s
  double cell = 0;                    // m
  std::string method;                 // of the water on the ground: "routed" or "dynamic"
  int draws = 0;                      // plausible soils
  std::uint64_t seed = 0;             // of the random draws
  std::vector<std::string> sentences; // the answer, one a design
};

// What is run, and how.
struct StormOptions {
  std::vector<std::string> designs;                 // names to run; empty: all. The yard as it is always runs
  surface::Method method = surface::Method::routed; // of the water on the ground
  int draws = 0;                                    // plausible soils besides the likely one
  std::uint64_t seed = 1;                           // of the random draws
  std::function<bool(double share)> progress;       // as in CompareOptions
  // When stopped, answer with the storms that are finished for every design, the lightest first, without a
  // band; a sentence then says so. Throws Stopped where there is none.
  bool keep_finished = false;
};

// Runs every storm with every design. Throws what a run throws.
StormStudy run_storms(const site::Site& site, const terrain::Ground& ground, Executor& executor,
                      const StormOptions& options);

// Depth at which hours reach the target [h], straight between storms: of two neighbours of which the first
// meets it and the second does not; half way where the second fails with no more hours, since it outlasts the
// run. depths rise. Infinite when all meet it, 0 when the first does not.
double failing_depth(const std::vector<double>& depths, const std::vector<double>& hours,
                     const std::vector<char>& met, double target);

} // namespace lowspot::study
