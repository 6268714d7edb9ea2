// The list of checks that need no run.
#pragma once
#include <vector>

#include <lowspot/results/check_record.hpp>
#include <lowspot/site/site.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::checks {

// Of the yard as it is: fall of the ground from the house, and where water goes that spills from low spots.
std::vector<results::CheckRecord> check_yard(const site::Site& site, const terrain::Ground& ground);

// Of a design on the ground of the yard as it is, its own regrading done: the above and everything that is
// dug and laid (cover, fall, depth, frost, footings, distances, roots, utilities). CheckRecord::of_works
// tells what the works themselves decide, from what the yard brings with it. Limits are those of site.limits:
// the catalogue's or the town's. Throws InputError when the design cannot be built on this ground.
std::vector<results::CheckRecord> check_design(const site::Site& site, const terrain::Ground& ground,
                                               const site::Design& design);

} // namespace lowspot::checks
