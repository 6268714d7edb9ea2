// Openings to the ground: weir while the water is shallow, orifice once it drowns them.
#pragma once
#include <lowspot/drain/chamber.hpp>
#include <lowspot/drain/layout.hpp>

namespace lowspot::drain {

// Metric coefficients of a grate in a sag (Brown, Schall, Morris et al. 2009, Urban Drainage Design Manual,
// HEC-22): Q = 1.66 P d^1.5 as a weir, Q = 0.67 A sqrt(2 g d) as an orifice, the lesser of the two.
constexpr double grate_weir = 1.66; // m0.5/s
// Without dimension.
constexpr double grate_orifice = 0.67;

// The ground at a mouth, or at a part of one, over one step.
struct MouthWater {
  int mouth = 0;       // index, see Drain::mouth()
  double share = 1;    // of the rim and the clear area of that mouth
  double ground = 0;   // elevation [m]
  double depth = 0;    // of the water there at the start of the step [m]
  double arriving = 0; // all that comes there [m3/s]
  double frontal = 0;  // of that, what runs onto the grate and falls in rather than run over it [m3/s]
  double surface = 0;  // of the water that feeds it [m2]
};

// Discharge [m3/s] through a rim of `rim` metres and a clear area of `area` m2 under a head [m]; zero below.
// `slope_out`: d / d head [m2/s].
double mouth_flow(double rim, double area, double head, double& slope_out);

// The depth d [m] on the ground at the end of a step of dt [s] that agrees with d = before + (arriving -
// mouth_flow(d - back) / surface) dt, where `arriving` [m/s] reaches the surface [m2] around the mouth and
// `back` [m] is how far the water below stands over the ground. Never negative.
double depth_over_mouth(const Mouth& mouth, double before, double arriving, double back, double surface,
                        double dt);

// The rate [m3/s] at which a mouth, or the part of one that `water` names, takes water in over dt [s] while
// the water below stands at `below` [m], with its slope in that level [m2/s]: mouth_flow() at
// depth_over_mouth(). What runs onto a grate (frontal flow; Brown, Schall et al. 2009) falls in first, up to
// its orifice flow under the depth there or 5 mm, evenly less as the water below comes up to that.
Curve mouth_intake(const Mouth& mouth, const MouthWater& water, double below, double dt);

} // namespace lowspot::drain
