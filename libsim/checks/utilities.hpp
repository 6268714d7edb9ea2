// Pipes and cables in the ground that a trench meets.
#pragma once
#include <vector>

#include <lowspot/checks/works.hpp>
#include <lowspot/results/check_record.hpp>

namespace lowspot::checks {

// One item for every crossing: station, clear height to the pipe, strip to dig by hand. A utility beside
// which a trench runs nearer than that strip, other than where it crosses, is an item too. Where a pipe
// passes under a line of unknown size, it depends on that size unless the widest that serves a house would
// keep the limit. Without any utility in the site file: unknown, and whom to call.
void check_utilities(const site::Site& site, const Works& works, std::vector<results::CheckRecord>& list);

} // namespace lowspot::checks
