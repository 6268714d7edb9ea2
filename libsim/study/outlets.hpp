// Where a pipe from a place in the yard could end: open edges and the candidates of the site file.
#pragma once
#include <string>
#include <vector>

#include <lowspot/study/diagnosis.hpp>
#include <lowspot/study/reach.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::study {

// A place where pipes may end.
struct OutletPlace {
  std::string name, kind;     // as in OutletRoute
  std::vector<ReachEnd> ends; // open cells at which a pipe would reach it
};

// Every side of the outline with open edge faces (level: the ground there), then every candidate.
std::vector<OutletPlace> outlet_places(const site::Site& site, const terrain::Ground& ground,
                                       const ReachGround& reach_ground);

// Routes from a place to each of the outlets: those in reach first, by digging; then those that miss least.
// Edges that are a lot line ([[keep_off]]) stand behind the others of their kind, and a first one with less
// than an inch of fall to spare behind the next that has it for at most twice the digging.
std::vector<OutletRoute> find_outlets(const site::Site& site, const ReachGround& ground,
                                      const std::vector<OutletPlace>& places, const Point& from,
                                      double start_invert);

} // namespace lowspot::study
