// What a design needs beside its pipe and trenches: inlets, channels, wells, cleanouts, ground moved and
// amended.
#pragma once
#include <string>
#include <vector>

#include <lowspot/job/takeoff.hpp>

namespace lowspot::job {

// One thing that works need.
struct WorkQuantity {
  std::string group, item;          // as in TakeoffLine
  Measure measure = Measure::count; // what `net` counts
  double net = 0;                   // in place: m, m2, m3 or pieces
  std::string allowance;            // what is added for the order: "25 % swell"; may be empty
  double factor = 1;                // ordered over net
  double density = 0;               // kg/m3 as delivered; 0: nobody weighs it
};

// Works that stand already (site::Design::standing) are left out. ground: of the yard as it is, or as the
// design leaves it (terrain::reshape()). Earth is measured between the two, cell by cell; what is cut beyond
// what is filled is hauled away, what is wanting is brought in. Throws what reshape() throws.
std::vector<WorkQuantity> other_works(const site::Site& site, const site::Design& design,
                                      const terrain::Ground& ground);

} // namespace lowspot::job
