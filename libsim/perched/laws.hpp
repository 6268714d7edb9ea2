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

// K (H + b + head_above) / b over a freely draining subsoil, K when b is infinite (Darcy 1856).
inline Leakage leakage_law(double conductivity, double thickness, double head_above, double dt) {
  if (!std::isfinite(thickness)) return {conductivity * dt, 0};
  return {conductivity * dt * (1 + head_above / thickness), conductivity * dt / thickness};
}

// Integral over the wall of a column of depth D of the pressure head of water that stands `level` above its
// foot.
inline double wall_potential(double level, double depth) {
  if (level <= 0) return 0;
  return level <= depth ? 0.5 * level * level : depth * level - 0.5 * depth * depth;
}

} // namespace lowspot::perched
