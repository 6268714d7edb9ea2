// The profile of a run as SVG: ground, stone, pipe and the highest water.
#pragma once
#include <string>

#include <lowspot/report/units.hpp>
#include <lowspot/results/record.hpp>

namespace lowspot::report {

// Empty when the profile has fewer than two points.
std::string profile_svg(const results::RunProfileRecord& profile, const Units& units);

} // namespace lowspot::report
