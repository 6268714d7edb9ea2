// What a trench that was not dug as designed costs in standing water.
#pragma once
#include <functional>
#include <string>

#include <lowspot/site/site.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::study {

// The design against the trench as it was dug.
struct AsDugCost {
  std::string area;             // the judged area that suffers most, or "the wettest spot"
  double hours_designed = 0;    // standing after rain [h]
  double hours_dug = 0;         // h
  bool designed_clears = false; // within the target, everywhere it is asked for
  bool dug_clears = false;      // likewise, as dug
  bool designed_still = false;  // the area still stands when the simulated time ends, as designed
  bool dug_still = false;       // likewise, as dug
};

// Runs the site's storm with the design and with the design as dug, on the same soil. threads: for both
// together; 0: one a core.
AsDugCost cost_of_digging(const site::Site& site, const terrain::Ground& ground, const site::Design& designed,
                          const site::Design& dug, const std::string& version,
                          const std::function<void(double share)>& progress, int threads = 0);

// One sentence, hours rounded so as not to promise more than is known.
std::string sentence(const AsDugCost& cost);

} // namespace lowspot::study
