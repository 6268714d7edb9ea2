// The storm that is taken where a yard names none, written as in a site file.
#pragma once

namespace lowspot::site {

// Depth of rain.
inline constexpr const char* usual_storm_depth = "2 in";
// Its duration, but for the day-long patterns.
inline constexpr const char* usual_storm_duration = "6 hr";

} // namespace lowspot::site
