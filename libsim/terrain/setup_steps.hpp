// A bumped tripod or a wrong turning point: from one reading on, every elevation is off by the same amount.
#pragma once
#include <string>
#include <vector>

#include <lowspot/terrain/survey.hpp>

namespace lowspot::terrain {

// A place in the book from which all elevations are off alike.
struct SetupStep {
  int setup = 0;         // in which it happens, from 1
  int line = 0;          // of the first reading that is off
  std::string name;      // of its point
  bool at_start = false; // the whole set-up is off: a bump while it was moved, or its turning point misread
  double step = 0;       // by how much what follows is booked too high [m]
  double misclosure = 0; // of the loop that it explains [m]; 0 where no known point was shot again
  double fit_before = 0; // typical misfit between the two sides of the step [m]
  double fit_after = 0;  // and if mended [m]
  double evidence = 0;   // by how much the sum of (cut) squared misfits falls
};

// For every loop whose misclosure is beyond what is allowed: from which reading on a step of that size lets
// the shots on both sides fit each other best. Where no known point closes the book: the step that fits best,
// if it is over 5 cm and far beyond chance. At most one for each loop. Uses elevations as booked, without the
// misclosure spread over them. Shots on two sides of a building (outlines, m) are not held against each
// other.
std::vector<SetupStep> find_setup_steps(const LevelBook& book, const std::vector<Polygon>& buildings = {});

} // namespace lowspot::terrain
