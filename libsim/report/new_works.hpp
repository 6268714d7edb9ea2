// Which works of a design are still to be dug and ordered.
#pragma once
#include <algorithm>
#include <string>

#include <lowspot/site/design.hpp>

namespace lowspot::report {

// Whether a work of this name is still to be made: those of an earlier stage stand already.
inline bool is_new(const site::Design& design, const std::string& name) {
  return std::find(design.standing.begin(), design.standing.end(), name) == design.standing.end();
}

} // namespace lowspot::report
