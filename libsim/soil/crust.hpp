// A crust or a trodden skin: a thin layer at the ground, less conductive than the soil below, with which it
// stands in series (Hillel and Gardner 1969, 1970). Thickness L and conductivity Kc make a resistance L/Kc;
// the crust itself stores nothing.
#pragma once
#include <lowspot/soil/column.hpp>

namespace lowspot::soil {

// Whether there is one to reckon with.
inline bool has_crust(const Parameters& soil) {
  return soil.crust_thickness > 0;
}

// The thickness of soil with the resistance of the crust, K L/Kc [m]: 0 without a crust, infinite for one
// that lets nothing through.
double crust_as_soil(const Parameters& soil);

// Whether the crust keeps the soil below it from saturation under `ponded` [m] of water: then the rate is
// that of rate_through_crust(). Otherwise crust and wetted soil together follow Green and Ampt's law with the
// front crust_as_soil() farther on and the drive less by as much: with R = L/Kc,
//   f = (h + L + suction + Z) / (R + Z/K) = K (1 + (h + L + suction - K R) / (K R + Z)).
bool crust_limits(const Parameters& soil, double ponded);

// The rate q [m/s] at which the soil below passes on at unit gradient what the crust lets through: the
// suction is then suction (K/q)^(1/(2 + 3 lambda))
// (Brooks and Corey 1964), which is that of the front at q = K. At most K. Soil that is drier than this state
// draws more until it has reached it, within the first hour or so.
double rate_through_crust(const Parameters& soil, double ponded);

} // namespace lowspot::soil
