// Vessels under a grade line: what they hold and how they soak away.
#pragma once
#include <lowspot/drain/layout.hpp>

namespace lowspot::drain {

// What a function gives at one point.
struct Curve {
  double value = 0, slope = 0; // in units that the function names; the slope in its argument
};
// x for x well above `blur`, zero below zero, smooth between.
Curve smooth_positive(double x, double blur);
// 0 below 0, 1 above 1, smooth between.
Curve smooth_step(double x);

// Rate at which a chamber soaks into the soil [m3/s] with its water at `level` [m]: conductivity times the
// area of bottom and wetted wall, at a hydraulic gradient of one (the practice of soakaway design, e.g. BRE
// Digest 365, 1991). The slope is that in the level [m2/s]. The pressure of the water and the pull of dry
// soil, which both add to it, are left out.
Curve soak_rate(const Chamber& chamber, double level);

} // namespace lowspot::drain
