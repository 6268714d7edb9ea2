// Flow along a stone-filled trench, with inertia losses (Forchheimer 1901).
#pragma once

namespace lowspot::drain {

// Flux v [m/s] for a hydraulic gradient i: i = v / K + b v |v|. K in m/s, b in s2/m2 (0: Darcy's law).
// `slope_out` receives d v / d i.
double stone_flux(double gradient, double conductivity, double forchheimer_b, double& slope_out);

// A stretch of stone between the middles of two stations, or between a station and a level outside.
struct StoneReach {
  double bottom_a = 0, bottom_b = 0; // of the trench [m]
  double top_a = 0, top_b = 0;       // of the stone [m]
  double width = 0;                  // m
  double distance = 0;               // between a and b [m]
  double conductivity = 0;           // m/s
  double forchheimer_b = 0;          // s2/m2
};

// A flow between two levels, with its slopes in both.
struct Exchange2 {
  double q = 0;  // from a to b [m3/s]
  double da = 0; // d q / d level a [m2/s]
  double db = 0; // d q / d level b [m2/s]
};

// Flow from level a to level b [m]. The wetted height is the mean of the two, but never more than that of the
// side the water comes from, so that a dry station gives nothing.
Exchange2 stone_reach_flow(const StoneReach& reach, double level_a, double level_b);

} // namespace lowspot::drain
