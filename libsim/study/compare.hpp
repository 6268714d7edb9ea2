// The main job: the yard as it is and with each design, in the same storm on the same soil.
#pragma once
#include <functional>
#include <string>
#include <vector>

#include <lowspot/results/record.hpp>
#include <lowspot/site/site.hpp>
#include <lowspot/study/progress_board.hpp>
#include <lowspot/terrain/ground.hpp>
#include <lowspot/yard/yard.hpp>

namespace lowspot::study {

// What is run, and how.
struct CompareOptions {
  std::vector<std::string> designs; // names to run; empty: all. The yard as it is always runs
  int threads = 0;                  // 0: one a core
  // Of the water on the ground. The routed method is quick and approximate, and does not follow sources.
  surface::Method method = surface::Method::dynamic;
  std::string version; // of the program, for the record
  // Called now and then from any thread with the share of all work that is done, 0..1. Return false to stop
  // early: compare() then throws Stopped.
  std::function<bool(double share)> progress;
  // When stopped, answer with the runs that are finished, if the yard as it is and one design are among them;
  // the verdict's sentence and a warning then say which are missing.
  bool keep_finished = false;
};

// The yard as it is (null) and the designs with these names, or all; InputError for a name that is not there.
std::vector<const site::Design*> chosen_designs(const site::Site& site,
                                                const std::vector<std::string>& names);

// Runs everything. Throws InputError for a design that is not in the site or cannot be built.
results::Comparison compare(const site::Site& site, const terrain::Ground& ground,
                            const CompareOptions& options);

} // namespace lowspot::study
