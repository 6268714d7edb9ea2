// Uptake by plants after FAO-56 (Allen, Pereira, Raes and Smith 1998, chapter 8).
#pragma once

namespace lowspot::soil {

// Air in the root zone below which uptake falls in proportion, to 0 where there is none [m3/m3].
inline constexpr double air_for_full_uptake = 0.10;

// Water taken [m] from a store that holds `stored` [m] above the wilting point, for an unstressed demand [m].
// capacity: TAW, what the store holds between wilting point and field capacity [m]; depletion_fraction: p. At
// full rate down to (1 - p) TAW, then at the rate demand * stored / ((1 - p) TAW): exact over any step, never
// below 0.
double stressed_uptake(double demand, double stored, double capacity, double depletion_fraction);

} // namespace lowspot::soil
