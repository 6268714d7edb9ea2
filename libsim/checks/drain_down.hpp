// Whether what holds water back is empty again before the next storm.
#pragma once
#include <vector>

#include <lowspot/results/record.hpp>
#include <lowspot/site/site.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::checks {

// One item a dry well: when less than a twentieth of what it can hold is left in it, after the rain; and one
// a rain garden: when no water deeper than the target's depth stands in it any more. Unknown where the
// simulated time ends sooner. end_of_rain [s].
void check_drain_down(const site::Site& site, const terrain::Ground& ground, const site::Design& design,
                      const results::DesignRecord& record, double end_of_rain,
                      std::vector<results::CheckRecord>& list);

} // namespace lowspot::checks
