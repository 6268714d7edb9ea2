// What makes one run of a study the same as another.
#pragma once
#include <string>

#include <lowspot/site/site.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::study {

// Names the yard in a journal: the site file without [tune] (comments and order of keys do not matter), every
// file that it names, the ground as gridded and the figures of the soils, and the version of the program.
std::string study_key(const site::Site& site, const terrain::Ground& ground, const std::string& version);

// Names one run: every figure of the design (null: the yard as it is), the cell [m] and the method. The name
// of the design does not count.
std::string run_key(const std::string& study, const site::Design* design, double cell,
                    const std::string& method);

} // namespace lowspot::study
