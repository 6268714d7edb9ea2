// Several designs built together, or one after another.
#pragma once
#include <string>
#include <vector>

#include <lowspot/site/design.hpp>

namespace lowspot::site {

// Two designs as one, with the name of the first: its works stand first, so that ground is shaped in that
// order.
struct Combined {
  Design design;                       // built together
  std::vector<std::string> renamed;    // a sentence for each work of `added` whose name was taken
  std::vector<std::string> built_once; // a sentence for each work that is the same in both
  std::vector<std::string> clashes;    // sentences; the two cannot be built together when there are any
};

// How the second of two designs comes in. Together: both in one go, so that neither may undo the other.
// After: when the first stands already, so that a downspout may be sent elsewhere a second time.
enum class Joining { together, after };

// Works that both describe alike are built once. Of two different works with one name the added one becomes
// "NAME (DESIGN)", DESIGN being `added.name`, also where others of its design name it.
// Clashes: two trenches along the same line; the same outlet, inlet or fitting with different figures; two
// basins on the same ground; a downspout sent to two places at once.
Combined combine(const Design& first, const Design& added, Joining joining);

// Whether a work of a later stage stands before it is begun.
bool stands_already(const Design& design, const std::string& name);
// Of a later stage, the works that stand before it is begun; none of its downspouts, since it does not tell
// which of them were sent elsewhere before: Design::after does.
Design what_stands(const Design& design);

// The works of all parts in that order, built together under the name given. Not empty.
Combined combine_all(const std::vector<const Design*>& parts, const std::string& name);

} // namespace lowspot::site
