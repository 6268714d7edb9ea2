// Distances to keep: from the house, lot lines, streets, wells, septic fields.
#pragma once
#include <vector>

#include <lowspot/checks/works.hpp>
#include <lowspot/results/check_record.hpp>

namespace lowspot::checks {

// What lets water into the ground keeps away from houses; outlets keep away from lot lines and streets; all
// works keep away from wells; drains and outlets keep away from septic fields, farther where they lie
// downhill of or level with the field; [[keep_off]] of kind "other" holds for all works. One item for each
// place, with the nearest piece of the works. A lot line that the site file does not name is unknown: the
// outline is what is computed, not what is owned.
void check_setbacks(const site::Site& site, const Works& works, std::vector<results::CheckRecord>& list);

} // namespace lowspot::checks
