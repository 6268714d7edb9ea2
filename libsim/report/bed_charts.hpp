// Moisture of beds through the storm and the season, between soggy and thirsty.
#pragma once
#include <string>

#include <lowspot/report/page.hpp>

namespace lowspot::report {

// One figure a bed: water in the root zone as a share of what plants can use, against hours from the start of
// the storm. Empty without beds.
std::string bed_charts(const Page& page);
// The same through the dry spell, against days. Empty without a season.
std::string season_charts(const Page& page);

} // namespace lowspot::report
