// One design, or the yard as it is, through one storm: what every study is made of.
#pragma once
#include <functional>
#include <string>
#include <vector>

#include <lowspot/rain/hyetograph.hpp>
#include <lowspot/results/record.hpp>
#include <lowspot/site/site.hpp>
#include <lowspot/terrain/ground.hpp>
#include <lowspot/yard/yard.hpp>

namespace lowspot::study {

// How one run is made.
struct RunSettings {
  // Of the water on the ground. The routed method is quick and approximate.
  surface::Method method = surface::Method::dynamic;
  // Tells the water apart by where it came from; only with the dynamic method.
  bool follow_sources = false;
  // Hours, peaks and volumes alone: no maps and no series over time. They are the same figures, since the
  // recorder looks at every step.
  bool figures_only = false;
  // Stops for output only every hour of the storm and every six hours after it. Every stop costs a short
  // step; times are found within steps, so figures move by less than what a step leaves uncertain.
  bool few_stops = false;
  int threads = 1; // of this run: see threads_each()
  // Called now and then with the share of this run that is done, 0..1. May throw to end it.
  std::function<void(double share)> progress;
};

// One run and what it said.
struct OneRun {
  results::DesignRecord record;      // of it
  std::vector<std::string> warnings; // of the design in this yard
};

// design: null runs the yard as it is. low_spots: places whose shares are recorded when sources are followed;
// may be empty otherwise. Nothing is shared between runs, so that any number may go side by side. Throws
// InputError for a design that cannot be built here, NumericsError when the books do not close.
OneRun run_one(const site::Site& site, const terrain::Ground& ground, const rain::Hyetograph& rain,
               const site::Design* design, const std::vector<terrain::LowSpot>& low_spots,
               const RunSettings& settings = {});

// Share of a run's cost that is done at `time` [s]: nearly all lies in the storm and the hour or two in which
// films run off.
double share_done(double time, double end_of_rain, double end);

} // namespace lowspot::study
