// Uptake by plants and evaporation from bare ground after FAO-56 (Allen, Pereira, Raes and Smith 1998,
// chapters 7 and 8).
#pragma once

namespace lowspot::soil {

// Air in the root zone below which uptake falls in proportion, to 0 where there is none [m3/m3].
inline constexpr double air_for_full_uptake = 0.10;
// Depth that evaporation can dry [m] (Allen et al. 1998, chapter 7: 0.10 to 0.15 m).
inline constexpr double evaporating_depth = 0.10;
// What wet bare ground loses, as a multiple of reference evapotranspiration (the same, equation 72).
inline constexpr double bare_ground_coefficient = 1.20;
// Bare soil dries to this share of the wilting point (the same, equation 73).
inline constexpr double driest_bare_share = 0.5;

// Share of the water bare soil can lose, `evaporable` [m], that it loses at full rate (REW / TEW).
double easily_evaporated_share(double evaporable);

// Water taken [m] from a store that holds `stored` [m] above the wilting point, for an unstressed demand [m].
// capacity: TAW, what the store holds between wilting point and field capacity [m]; depletion_fraction: p. At
// full rate down to (1 - p) TAW, then at the rate demand * stored / ((1 - p) TAW): exact over any step, never
// below 0.
double stressed_uptake(double demand, double stored, double capacity, double depletion_fraction);

} // namespace lowspot::soil
