// What the crew digs and lays: cover, fall, depth, frost, footings.
#pragma once
#include <vector>

#include <lowspot/checks/works.hpp>
#include <lowspot/results/check_record.hpp>

namespace lowspot::checks {

// Ground over the pipe, least fall, depth of the trench, frost: one item each for every run, and the depth of
// dry wells.
void check_trenches(const site::Site& site, const Works& works, std::vector<results::CheckRecord>& list);

// Nothing is dug below a line that runs down and out from the bottom of a footing (45 degrees: a rule of
// geotechnical practice). One item a building. Where the footing's depth is not known it passes only when it
// would for a footing of no depth at all; otherwise it is unknown, and says which depth would do.
void check_footings(const site::Site& site, const Works& works, std::vector<results::CheckRecord>& list);

} // namespace lowspot::checks
