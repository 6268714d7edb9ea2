// Pipes, cables and limits in the ground that a trench crosses.
#pragma once
#include <string>
#include <vector>

#include <lowspot/site/site.hpp>

namespace lowspot::job {

// One line that a trench crosses.
struct LineCrossed {
  std::string name;    // of the line
  double distance = 0; // from the head of the trench [m]
};
// Utilities, then lot lines and whatever else is kept off, that a way from head to foot crosses.
std::vector<LineCrossed> lines_crossed(const site::Site& site, const Polyline& way);

} // namespace lowspot::job
