// The law of Green and Ampt (1911) for one column, with ponding under steady rain by Mein and Larson (1973).
// A sharp front separates saturated soil from what was there before; the rate is K (1 + drive / F), with F
// the water infiltrated so far [m] and drive = (suction at the front + ponded head) * (porosity - content
// ahead) [m]. The ponded head is held constant over a step. Exact within a step; SI throughout.
#pragma once

namespace lowspot::soil {

// Rate at which a ponded soil takes water in [m/s]. Infinite at F = 0 where drive > 0.
double infiltration_rate(double conductivity, double drive, double infiltrated);

// F at the moment of ponding under a steady supply [m]: K drive / (supply - K); infinite if supply <= K.
double infiltrated_at_ponding(double conductivity, double drive, double supply);

// Time from the start of a steady supply on a fresh soil to ponding [s]; infinite if it never ponds.
double ponding_time(double conductivity, double drive, double supply);

// Time in which a ponded soil goes from F = `from` to F = `to` >= from [s]; needs conductivity > 0:
// K t = to - from - drive ln((to + drive) / (from + drive)).
double ponded_time_between(double conductivity, double drive, double from, double to);

// What a ponded soil takes in over dt, starting at F = `infiltrated` [m]. Solves the same equation by
// Halley's iteration to round-off, two or three logarithms.
double infiltrated_while_ponded(double conductivity, double drive, double infiltrated, double dt);

// What the soil takes in over dt under a steady supply [m/s] with no water on the ground at the start [m];
// ponding may begin inside the step. Exact. What is left, supply * dt - result, stands on the ground.
double infiltrated_under_supply(double conductivity, double drive, double infiltrated, double supply,
                                double dt);

} // namespace lowspot::soil
