// What lies on the way of water to a place in a drain.
#pragma once
#include <set>
#include <string>
#include <vector>

#include <lowspot/site/design.hpp>

namespace lowspot::site {

// A piece of a drain with what it leads to, by name.
struct Way {
  std::string name; // of a run, fitting, inlet or channel
  std::string to;   // of what takes its water; empty: nothing
};

// Names of all whose water goes to `place`, the place's own among them.
std::set<std::string> all_that_lead_to(const std::vector<Way>& ways, const std::string& place);
// The same of a design: runs, inlets, channels, and the fittings that runs begin at.
std::set<std::string> all_that_lead_to(const Design& design, const std::string& place);

// The outlets that water of a run comes to, more than one where its way parts at a fitting.
std::vector<const Outlet*> outlets_reached(const Design& design, const Run& run);

} // namespace lowspot::site
