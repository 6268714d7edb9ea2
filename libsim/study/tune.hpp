// Tries the combinations of [tune] and finds the smallest that does what was agreed.
#pragma once
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include <lowspot/results/record.hpp>
#include <lowspot/results/target.hpp>
#include <lowspot/study/candidate.hpp>
#include <lowspot/study/executor.hpp>
#include <lowspot/study/journal.hpp>

namespace lowspot::study {

// How the combinations are tried.
struct TuneOptions {
  // Ground of coarser cells for the quick look; null: the same ground for both.
  const terrain::Ground* quick_ground = nullptr;
  bool all_in_full = false;   // no quick look: every combination that can be built is run in full
  std::string version;        // of the program, for the record
  Journal* journal = nullptr; // finished runs are looked up and added here; may be null
  std::string study;          // names site, ground and version in the journal's keys
  // Called with what is being done and the share of it that is done. Return false to stop: tune() then throws
  // Stopped.
  std::function<bool(const std::string& doing, double share)> progress;
};

// One combination with what it did.
struct Tried {
  Candidate candidate;                              // as built
  std::optional<results::DesignRecord> quick, full; // figures of a run, without maps and series
  std::vector<results::Judged> judged;              // from the full run, else from the quick one
  bool works = false;                               // every promise is kept, in the full run
  bool on_front = false;                            // nothing smaller does as well
  const results::DesignRecord* best() const { return full ? &*full : quick ? &*quick : nullptr; }
};

// How far the quick look was from the full run, largest of those run both ways [s].
struct QuickError {
  double standing = 0, soggy_bed = 0, dry_bed = 0; // of the times of each promise [s]
  int runs = 0;                                    // run both ways
};

// All combinations and the choice among them.
struct Tuning {
  results::Comparison yard;             // what was asked of whom; designs: the yard as it is, in full
  std::string design;                   // that was varied
  std::vector<Tried> tried;             // smallest first
  int smallest = -1;                    // in `tried`: the smallest that works; -1: none does
  int knee = -1;                        // in `tried`: where the curve of the front bends; -1: it has no bend
  bool as_is_works = false;             // the yard needs no design
  bool by_cost = false;                 // see priced_alike(); else by what is dug
  QuickError error;                     // of the quick look
  bool quick_used = false;              // the quick look chose what was run in full
  double quick_cell = 0, full_cell = 0; // m
  int runs_made = 0, runs_found = 0;    // in this study; found in the journal
  // Limits that the works of the smallest do not keep, those that need a run aside; the most serious first.
  std::vector<results::CheckRecord> limits_not_kept{};
};

// The quick look runs every combination that can be built with the routed method, on the quick ground. Those
// that could be the smallest are then run in full: any that the quick look does not rule out by more than
// twice the largest error seen in this study and a quarter of an hour, until nothing smaller is left open. So
// the answer is that of running all in full as long as no error of the quick look is more than twice the
// largest seen. The same answer with any executor. Throws InputError as all_choices() and compare() do.
Tuning tune(const site::Site& site, const terrain::Ground& ground, Executor& executor,
            const TuneOptions& options);

// Hours that a combination is compared by: the longest any judged area stands after the rain.
double hours_of(const results::DesignRecord& record);

} // namespace lowspot::study
