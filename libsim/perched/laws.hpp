// The laws of the perched zone, each for one face or one cell, with their slopes for Newton's method.
#pragma once
#include <algorithm>
#include <cmath>

namespace lowspot::perched {

// Flow through a face of a square cell per unit of conductivity [m2], from `here` to `there`, and its slopes.
struct FaceFlow {
  double flow = 0;        // from here to there [m2]
  double slope_here = 0;  // d flow / d H_here, >= 0
  double slope_there = 0; // - d flow / d H_there, >= 0
};

// Dupuit-Forchheimer flow over a sloping base (Boussinesq 1904): H_face (drop + H_here - H_there), with
// `drop` the fall of the tight layer from here to there [m]. H_face is the mean of the two thicknesses
// (second order) where the lower cell holds at least the drop; below that it moves to the upper cell's, so
// that the flow leaves no empty cell (it is 0 when H of the giving side is 0), never flows up the water
// table, and rises with H on the one side and falls with H on the other: what makes every implicit step
// stable with H >= 0.
inline FaceFlow face_flow(double here, double there, double drop) {
  const double fall = std::abs(drop);
  const bool down = drop >= 0;
  const double upper = down ? here : there;
  const double lower = down ? there : here;
  const bool covered = lower >= fall;
  const double gain = fall + upper - lower;
  const double mean_flow = 0.5 * (upper + lower) * gain;
  const double upper_flow = upper * (fall + 0.5 * (upper - lower));
  const double flow = covered ? mean_flow : upper_flow;
  const double by_upper = covered ? 0.5 * fall + upper : fall + upper - 0.5 * lower;
  const double by_lower = covered ? lower - 0.5 * fall : 0.5 * upper;
  return {down ? flow : -flow, down ? by_upper : by_lower, down ? by_lower : by_upper};
}

// Leakage through the tight layer over dt [m]: constant + slope * H while the cell holds water.
struct Leakage {
  double constant = 0; // m
  double slope = 0;    // m/m
};

// What lies in the way of leakage: the water-filled soil and the tight layer below it, in series.
struct LeakagePath {
  double soil_conductivity = 0; // of the soil above [m/s]
  double standing = 0;          // thickness of that soil under water [m]
  double conductivity = 0;      // K of the tight layer [m/s]
  double thickness = 0;         // b of the tight layer [m]; infinite: unit gradient
};

// Darcy's law (1856) through both over a freely draining subsoil: (H + b + head_above) / (H/K_soil + b/K); K
// when b is infinite. The resistance of the soil is that of `standing`, which makes the law a straight line
// in H. A layer that lets more through than the soil brings does not draw: then the soil alone limits.
inline Leakage leakage_law(const LeakagePath& path, double head_above, double dt) {
  const bool endless = !std::isfinite(path.thickness);
  if (path.conductivity > path.soil_conductivity) {
    if (path.soil_conductivity <= 0) return {};
    const double pressing = path.standing > 0 ? head_above / path.standing : 0;
    const double resistance =
        path.standing / path.soil_conductivity + path.thickness / path.conductivity; // s
    const double both =
        endless ? path.conductivity : (path.standing + path.thickness + head_above) / resistance;
    return {std::min(both, path.soil_conductivity * (1 + pressing)) * dt, 0};
  }
  if (endless || path.conductivity <= 0) return {path.conductivity * dt, 0};
  const double as_tight = path.standing * path.conductivity / path.soil_conductivity;
  const double slope = path.conductivity * dt / (path.thickness + as_tight);
  return {slope * (path.thickness + head_above), slope};
}

// Integral over the wall of a column of depth D of the pressure head of water that stands `level` above its
// foot.
inline double wall_potential(double level, double depth) {
  if (level <= 0) return 0;
  return level <= depth ? 0.5 * level * level : depth * level - 0.5 * depth * depth;
}

} // namespace lowspot::perched
