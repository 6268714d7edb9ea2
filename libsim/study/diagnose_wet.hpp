// The part of a diagnosis that needs the storm to be run: where each place's water comes from, what kind of
// wet it is, and whether rain explains what was seen.
#pragma once
#include <functional>

#include <lowspot/study/diagnosis.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::study {

// How the storm is run for it.
struct WetOptions {
  int threads = 0; // for the storm, and for what was seen, one run each; 0: one a core
  // As in CompareOptions.
  std::function<bool(double share)> progress;
};

// Runs the yard as it is with its sources followed and puts the record into diagnosis.yard.designs,
// wet_places and seen beside it. coarse: a ground of larger cells that is enough for explaining what was
// seen, each of which takes some ten runs; may be `ground` itself.
void diagnose_wet(Diagnosis& diagnosis, const site::Site& site, const terrain::Ground& ground,
                  const terrain::Ground& coarse, const WetOptions& options = {});

} // namespace lowspot::study
