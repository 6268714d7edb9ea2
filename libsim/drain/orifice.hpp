// Openings in the wall of a pipe: orifice flow in both directions, smooth through zero head.
#pragma once
#include <lowspot/drain/stone_flow.hpp>

namespace lowspot::drain {

// sign(x) sqrt(|x|), made smooth within about `blur` of zero: x / (x2 + blur2)^(1/4). `slope_out`: d / dx.
// At x = 10 blur it is 0.25 % below the root.
double smooth_root(double x, double blur, double& slope_out);
constexpr double orifice_blur = 1e-4; // m of head

// Torricelli: Cd a sqrt(2 g head) [m3/s] of an opening of area a [m2], odd in the head [m], smooth at zero.
double orifice_flow(double discharge_coefficient, double area, double head, double& slope_out);

// Openings spread evenly around a pipe over one station.
struct Openings {
  double invert = 0;   // m
  double diameter = 0; // m
  double strength = 0; // Cd a sqrt(2 g), a the whole opening area of the station [m2.5/s]
};

// Share of the openings below a depth y: that of the wetted arc, straight in the lowest and highest
// hundredth, where the arc would be infinitely steep. `slope_out`: d / dy.
double wetted_share(double diameter, double y, double& slope_out);

// Flow from the stone (level a) into the pipe (grade line b). The head is the difference of the levels,
// neither taken below the invert; the openings below the higher of the two pass it.
Exchange2 openings_flow(const Openings& openings, double level_a, double level_b);

// Flow through the end of a short pipe from a box (level a) into what it leads to (level b): Torricelli
// through the wetted share, under the head over the middle of the wetted height, or over the level beyond
// where that stands higher.
Exchange2 short_pipe_flow(const Openings& opening, double level_a, double level_b);

} // namespace lowspot::drain
