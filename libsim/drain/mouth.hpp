// Openings to the ground: weir while the water is shallow, orifice once it drowns them.
#pragma once
#include <lowspot/drain/layout.hpp>

namespace lowspot::drain {

// Metric coefficients of a grate in a sag (Brown, Schall, Morris et al. 2009, Urban Drainage Design Manual,
// HEC-22): Q = 1.66 P d^1.5 as a weir, Q = 0.67 A sqrt(2 g d) as an orifice, the lesser of the two.
constexpr double grate_weir = 1.66; // m0.5/s
// Without dimension.
constexpr double grate_orifice = 0.67;

// Discharge [m3/s] through a rim of `rim` metres and a clear area of `area` m2 under a head [m]; zero below.
// `slope_out`: d / d head [m2/s].
double mouth_flow(double rim, double area, double head, double& slope_out);

// The depth d [m] on the ground at the end of a step of dt [s] that agrees with d = before + (arriving -
// mouth_flow(d - back) / surface) dt, where `arriving` [m/s] reaches the surface [m2] around the mouth and
// `back` [m] is how far the water below stands over the ground. Never negative.
double depth_over_mouth(const Mouth& mouth, double before, double arriving, double back, double surface,
                        double dt);

} // namespace lowspot::drain
