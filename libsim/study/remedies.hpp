// What changing one thing of a design would buy, and how much clogging it stands.
#pragma once
#include <functional>
#include <string>
#include <vector>

#include <lowspot/catalog/catalog.hpp>
#include <lowspot/results/record.hpp>
#include <lowspot/site/site.hpp>
#include <lowspot/terrain/ground.hpp>
#include <lowspot/yard/yard.hpp>

namespace lowspot::study {

// One change and how long water then stands.
struct Remedy {
  std::string id, name; // as in DesignChange
  // Of the judged areas, in order, or of the wettest spot where there is none: how long they stand after the
  // rain [h] and whether they still do at the end.
  std::vector<double> hours;
  std::vector<bool> still_standing;     // one a judged area
  bool clears = false;                  // standing water is gone within the target in all of them
  std::string limited_by;               // of the run that was limited longest
  std::string not_possible;             // why it cannot be built; the rest is then empty
  std::vector<std::string> newly_fails; // checks that fail and did not before
};

// The design and what changes of it would buy.
struct Remedies {
  std::string design;             // its name
  std::vector<std::string> areas; // judged, or "the wettest spot"
  Remedy as_is, as_designed;      // the yard without the design, and with it
  std::vector<Remedy> changes;    // in the order of sort_changes()
  std::vector<Remedy> clogging;   // 3, 10 and 30 times; empty where nothing can clog
  bool nothing_clogs = false;     // it has no trench
  bool beds_besides = false;      // the target speaks of beds as well, which are not judged here
  std::string stopped;            // "Stopped by you after 5 of 13 runs."; the others are then left out
  std::string sentence;           // the answer
};

// How the runs are made.
struct RemedyOptions {
  surface::Method method = surface::Method::dynamic; // of the water on the ground
  int threads = 0;                                   // 0: one a core
  std::function<bool(double share)> progress;        // as in CompareOptions
  // When stopped after the design, the yard as it is and one more run: answer from what is done.
  bool keep_finished = false;
};

// Runs the storm on the yard as it is, with the design, and with each change of it (some ten runs). Throws
// InputError when the design itself cannot be built.
Remedies find_remedies(const site::Site& site, const terrain::Ground& ground, const catalog::Catalog& catalog,
                       const site::Design& design, const RemedyOptions& options = {});

// What buys most first: by the number of areas that still stand when the run ends, whose hours are but the
// least that they can be, then by the sum of hours; what cannot be built last.
void sort_changes(std::vector<Remedy>& changes);

// "What buys most is ..." and how much clogging the design stands. A change that makes a check fail is not
// named alone where another buys something and breaks none.
std::string remedies_sentence(const Remedies& remedies);

} // namespace lowspot::study
