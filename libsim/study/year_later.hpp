// A year later: the real rain and what was seen against what was promised; where they part, the causes by
// fit.
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include <lowspot/rain/hyetograph.hpp>
#include <lowspot/site/site.hpp>
#include <lowspot/study/executor.hpp>
#include <lowspot/terrain/ground.hpp>
#include <lowspot/yard/yard.hpp>

namespace lowspot::study {

struct Stood {      // how long water was seen to stand after the rain
  std::string area; // as in the site file
  double hours = 0; // h
};

// What was built, what fell, and what was seen.
struct YearLaterQuestion {
  const site::Design* design = nullptr;             // as it was built
  rain::Hyetograph rain;                            // as it fell
  std::vector<Stood> stood;                         // areas of the site
  std::optional<bool> outlet_ran;                   // whether water was seen to run from an outlet
  int draws = 20;                                   // plausible soils of the band; 0 where no input has one
  std::uint64_t seed = 1;                           // of the random draws
  surface::Method method = surface::Method::routed; // of the water on the ground in the draws
  std::function<bool(double share)> progress;       // as in CompareOptions
  // When stopped: answer from the runs that were finished, where they are enough for a band (least_band); in
  // the causes, where the drain as it was built is among them. Only of the process that leads.
  bool keep_finished = false;
};
constexpr int least_band = 5; // soils: P10 and P90 of fewer are but the least and the most of them

// What was promised of one area, in the rain that fell.
struct PromisedHours {
  std::string area;                           // as in the site file
  double seen = 0, p10 = 0, p50 = 0, p90 = 0; // h
  bool open_ended = false;                    // at P90 it had not ended with the simulated time
  bool inside = true; // between P10 and P90, an hour or a tenth (the greater) allowed for the watch
};

// The design ailing in one way, in the rain that fell.
struct Cause {
  std::string name, severity, check; // name empty: as built, at the likely values
  std::vector<double> hours;         // one an area of `stood`
  std::vector<char> open;            // one an area: still standing when the simulated time ended
  bool outlet_ran = false;           // water ran from an outlet
  // Squares of ln(simulated / seen) / ln 1.5; where the outlet does otherwise, 25 more if it was seen to run
  // and 4 if it was not.
  double misfit = 0;
};

// What a year has shown.
struct YearLater {
  std::string design;               // its name
  std::string stopped;              // "Stopped by you after 12 of 20 soils."; the others are then left out
  double rain_depth = 0;            // m
  int draws = 0;                    // soils of the band
  std::uint64_t seed = 0;           // of the random draws
  std::vector<PromisedHours> hours; // one an area of `stood`
  double outlet_share = 0;          // of the soils in which the outlet runs
  bool outlet_as_promised = true;   // what was seen of it fits that share
  bool as_promised = true;          // all of it
  std::vector<Cause> causes; // best fit first, each cause once at its best severity; empty when as promised
  std::vector<std::string> sentences; // the answer
};

// Runs the plausible soils, and where something lies outside the band the ailments of ailments.hpp. The yard
// is followed for the dry time of the site file after the rain, or for four times (seen_followed) as long as
// water was seen to stand, whichever is more. Throws InputError for an area that the site does not have.
YearLater compare_with_promise(const site::Site& site, const terrain::Ground& ground,
                               const YearLaterQuestion& question, Executor& executor);

// How long that area would stand with a cause, in words: "about 18 hours", "more than about 4 days".
std::string standing_words(const Cause& cause, std::size_t area);

// SI; for scripts.
std::string year_later_json(const YearLater& answer, const std::string& site_name,
                            const std::string& version);

} // namespace lowspot::study
