// The runs behind a set of plausible soils, as jobs of an executor; no statistics.
#pragma once
#include <string>
#include <vector>

#include <lowspot/results/record.hpp>
#include <lowspot/study/draws.hpp>
#include <lowspot/study/executor.hpp>
#include <lowspot/study/figures.hpp>
#include <lowspot/study/plausible.hpp>

namespace lowspot::study {

// One run, as far as bands need it.
struct DrawnRun {
  std::vector<Figure> figures; // in the order of figures_of()
  // What is agreed for beds is judged on these alone: name, soggy hours, whether still soggy at the end, and
  // dry days, after the storm and in the dry spell.
  std::vector<results::BedRecord> beds, season_beds; // of areas that name their plants
  double seconds = 0;                                // s that the run took
  double end = 0;                                    // s, of the simulated time
};

// All runs of a set of draws.
struct DrawRuns {
  std::vector<const site::Design*> designs;    // null: as it is
  std::vector<DrawnRun> main;                  // of the main runs, one a design; empty without them
  std::string recommended;                     // design of the main verdict; empty without main runs
  std::vector<DrawnRun> likely;                // by the draws' cells, one a design
  std::vector<std::vector<DrawnRun>> draws;    // [draw][design]
  std::vector<const site::Seen*> seen;         // things seen after rain
  std::vector<std::vector<double>> seen_hours; // [seen][draw]: what the yard as it is makes of them [h]
  int runs = 0;                                // that were made
};

// values: one list of inputs a draw. Throws what runs throw, and Stopped.
DrawRuns run_draws(const site::Site& site, const terrain::Ground& coarse, const results::Comparison* main,
                   const std::vector<UncertainInput>& inputs, const std::vector<std::vector<double>>& values,
                   Executor& executor, const PlausibleOptions& options);

// One run as text and back; numbers keep every digit.
std::string to_text(const DrawnRun& run);
DrawnRun drawn_run(const std::string& text);

} // namespace lowspot::study
