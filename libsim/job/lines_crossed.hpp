// Pipes, cables and limits in the ground that a trench crosses.
#pragma once
#include <string>
#include <vector>

#include <lowspot/site/site.hpp>

namespace lowspot::job {

// Where a run passes over or under something.
struct Crossing {
  double distance = 0; // along the run from its head [m]
  double angle = 0;    // between the two, 0..pi/2
};
// Where two lines cross; at a bend once.
std::vector<Crossing> crossings(const Polyline& run, const Polyline& other);

// One line that a trench crosses.
struct LineCrossed {
  std::string name;    // of the line
  double distance = 0; // from the head of the trench [m]
};
// Utilities, then lot lines and whatever else is kept off, that a way from head to foot crosses.
std::vector<LineCrossed> lines_crossed(const site::Site& site, const Polyline& way);

} // namespace lowspot::job
