// The profile of a run to dig: ground, pipe, trench bottom and what was found in the trench.
#pragma once
#include <string>
#include <vector>

#include <lowspot/job/cut_sheet.hpp>
#include <lowspot/job/dug.hpp>
#include <lowspot/report/units.hpp>

namespace lowspot::report {

// Stations rise to the right, from the outlet up. Readings of other runs are passed over.
std::string cut_profile_svg(const job::CutRun& run, const std::vector<job::DugCheck>& checks,
                            const Units& units, bool feet);

} // namespace lowspot::report
