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

// Openings spread evenly around a pipe over one station, or the end of a short pipe.
struct Openings {
  double invert = 0;   // m
  double diameter = 0; // m
  double strength = 0; // Cd a sqrt(2 g), a the whole area [m2.5/s]
};

// Flow from the stone (level a) into the pipe (grade line b), or back where b is higher: Torricelli,
// integrated over the wetted arc. Each opening passes by the head of the higher level over itself or over the
// lower level, whichever stands higher; none stands below the invert. By quadrature, within 0.01 % of the
// integral, which for an empty pipe is [E - (1 - m) K] 2 / pi sqrt(diameter), E and K the complete elliptic
// integrals of m = depth / diameter; straight in the head within `orifice_blur` of zero; rising in a and
// falling in b throughout.
Exchange2 openings_flow(const Openings& openings, double level_a, double level_b);

// Flow through the end of a short pipe from a box (level a) into what it leads to (level b): Torricelli
// through the wetted part of its circle, under the head over the middle of the wetted height, or over the
// level beyond where that stands higher.
Exchange2 short_pipe_flow(const Openings& opening, double level_a, double level_b);

} // namespace lowspot::drain
