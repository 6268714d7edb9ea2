// Depths from which a trench or pit asks for more than a spade, in one place for every page.
#pragma once

namespace lowspot::report {

// A ladder or another way out is needed [m]: 4 ft.
inline constexpr double ladder_depth = 4 * 0.3048;
// Nobody enters without a protective system [m]: 5 ft.
inline constexpr double protection_depth = 5 * 0.3048;

} // namespace lowspot::report
