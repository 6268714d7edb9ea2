// A circular pipe section: geometry, Manning conveyance, normal and critical depth.
#pragma once

namespace lowspot::drain {

constexpr double gravity = 9.81; // m/s2

// Geometry of the water in a circle of diameter `diameter` at depth y, both m; y is held between 0 and the
// crown.
double wetted_area(double diameter, double y);      // m2
double wetted_perimeter(double diameter, double y); // m
double top_width(double diameter, double y);        // m
// Depth at which the wetted area is `area` [m2], to round-off; the crown for a full or larger area.
double depth_for_area(double diameter, double area);

// Conveyance K [m3/s]: discharge = K sqrt(slope), K = A R^(2/3) / n (Manning 1891), n the same at every
// depth.
double conveyance(double diameter, double manning_n, double y);
// Discharge at the crown [m3/s] for a slope [m/m].
double full_flow(double diameter, double manning_n, double slope);
// The most a pipe carries with a free surface [m3/s], and the depth over diameter at which it does
// (0.938181).
double greatest_flow(double diameter, double manning_n, double slope);
// Over the diameter.
constexpr double depth_of_greatest_flow = 0.9381813;

// Depth of uniform flow [m], the lower of two where two exist; the crown when the pipe cannot carry q [m3/s].
double normal_depth(double diameter, double manning_n, double slope, double q);
// Depth at which the Froude number is one [m]: q2 T = g A3. Below the crown for every q.
double critical_depth(double diameter, double q);

// What the network solver needs of a section at one depth, with slopes. Above the crown a narrow slot stands
// for the free surface (Preissmann 1961); the same width bounds the surface at the invert, so that a dry pipe
// has a storage coefficient. The conveyance is held at its full value where the circle exceeds it (depth over
// 0.82 diameter): it then rises with depth throughout and a pipe is never both full and half full at one
// discharge.
struct Section {
  double diameter = 0;        // inside [m]
  double manning_n = 0;       // s/m^(1/3)
  double slot_width = 0;      // m
  double slot_depth = 0;      // depth at which the circle is as wide as the slot [m]
  double slot_area = 0;       // area of the circle below slot_depth [m2]
  double full_area = 0;       // m2
  double full_conveyance = 0; // m3/s
};
// Of a circular pipe: inside diameter [m], Manning's roughness [s/m^(1/3)].
Section make_section(double diameter, double manning_n);

// A section at one depth y.
struct SectionState {
  double area = 0;             // stored per metre of pipe [m2]; negative below the invert
  double width = 0;            // d area / d y [m]
  double conveyance = 0;       // m3/s, 0 below the invert
  double conveyance_slope = 0; // d conveyance / d y [m2/s]
};
// At depth y [m], the slot above the crown included.
SectionState at_depth(const Section& section, double y);
// Area and width alone of the same: the root that conveyance takes is left out where nothing needs it.
SectionState storage_at(const Section& section, double y);

// Discharge over a free end whose depth is y [m3/s], with slope d q / d y in `slope_out`: critical or normal,
// whichever carries more at that depth (on a steep pipe normal depth is below the critical one). Above 95 %
// of the diameter the critical flow goes on in a straight line.
double free_end_flow(const Section& section, double bed_slope, double y, double& slope_out);
// Froude number squared of a discharge at a depth; zero when dry, and when full.
double froude_squared(const Section& section, double q, double y);

} // namespace lowspot::drain
