// Why a yard is wet: its low spots, what fills them, and where a pipe could take their water by gravity.
#pragma once
#include <string>

#include <lowspot/site/site.hpp>
#include <lowspot/study/diagnosis.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::study {

// How far a diagnosis goes.
struct DiagnoseOptions {
  std::string version;        // of the program, for the record
  double least_depth = 0.006; // low spots shallower than this are not listed [m]
  int most_searched = 8;      // of so many low spots, the largest, outlets are looked for
};

// Nothing is run: the ground, the covers and the law of infiltration are enough. Throws InputError for a
// storm that cannot be made.
Diagnosis diagnose(const site::Site& site, const terrain::Ground& ground,
                   const DiagnoseOptions& options = {});

} // namespace lowspot::study
