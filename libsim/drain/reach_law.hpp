// What passes along a reach of pipe: friction, and the speed that is given to water which comes in at the
// side.
#pragma once

namespace lowspot::drain {

// Discharge along a reach, with its slopes.
struct ReachFlow {
  double q = 0;             // m3/s
  double by_slope = 0;      // d q / d slope [m3/s]
  double by_conveyance = 0; // d q / d conveyance
  double by_drag = 0;       // d q / d drag [m6/s2]
};

// Root of slope = q |q| / conveyance2 + drag q: Manning's friction, and what it takes to bring water that
// enters across the flow up to the speed of the flow, drag = 2 inflow / (g area2) with the inflow per metre
// (spatially varied flow, Chow 1959, section 12-1). conveyance [m3/s], drag [s/m3], slope [m/m]; straight in
// the slope within `blur` of zero [m/m], as conveyance * smooth_root(slope, blur) is, to which it comes
// without drag.
ReachFlow reach_flow(double conveyance, double drag, double slope, double blur);

} // namespace lowspot::drain
