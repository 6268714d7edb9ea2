// What goes wrong with a drain in its first years, as the same design ailing.
#pragma once
#include <functional>
#include <string>
#include <vector>

#include <lowspot/site/site.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::study {

// One way to ail, as a whole site and design.
struct Ailment {
  std::string name;     // "the cap is clogged with fines"
  std::string severity; // "a tenth of its intake left"
  std::string check;    // the one thing to do that tells
  site::Site site;      // with the soils of it
  site::Design design;  // with the works of it
};

// The causes looked at, each mild and severe where it has degrees: cap clogged, or where the stone has none
// a skin of fines over it, fabric clogged (a tenth and a hundredth of the intake left), soil tighter than
// thought (at the low end of its bands, or a third of a figure that is none, and a third of that), outlet
// blocked, a belly of half the pipe's diameter and of all of it half way along the run to the outlet. A cause
// that the design cannot have (no fabric, no trench, no outlet but pits and pumps) is left out. ground: for
// the inverts of a belly.
std::vector<Ailment> ailments_of(const site::Site& site, const site::Design& design,
                                 const terrain::Ground& ground);

} // namespace lowspot::study
