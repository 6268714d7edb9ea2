// Pipe from a downspout to the drain that takes its water, where a design sends roof water into one.
#pragma once
#include <string>
#include <vector>

#include <lowspot/site/site.hpp>

namespace lowspot::job {

// One such pipe. No design says how it gets there: its length is the straight one.
struct Leader {
  std::string downspout, to; // names
  double length = 0;         // m, from the foot of the downspout to the nearest of what takes its water
  std::string size;          // of the pipe it joins, "4 in"; empty where none is near
};

// Those that the works of this design, and not what stands before it, need. A downspout within a foot of what
// takes its water needs none.
std::vector<Leader> leaders_of(const site::Site& site, const site::Design& design);

// "downspout adapter, 4 in", one for each downspout that the works of this design, and not what stands before
// it, lead into a run or fitting, or through such a pipe to anything else.
std::vector<std::string> adapters_of(const site::Site& site, const site::Design& design);

// "tee, 4 in", one for each downspout, inlet and channel that these works lead into a run between its head
// and its foot, more than a foot from either: pipe is cut open there.
std::vector<std::string> tees_of(const site::Site& site, const site::Design& design);

// Names of the runs with a downspout, inlet or channel led in at their head or within a foot of it, by these
// works or by what stands before them: water comes in there, and no end cap goes on.
std::vector<std::string> heads_taken(const site::Site& site, const site::Design& design);

// "the pipe that leads 'east downspout' to 'carrier', 23 ft straight, is ordered, but ..."
std::string leader_note(const Leader& leader, const site::Site& site);

} // namespace lowspot::job
