// Steady flow down a plane with the pressure gradient kept and without acceleration: h' = S - n^2 q^2 /
// h^(10/3).
#pragma once
#include <cmath>

namespace steady {

struct Plane {
  double length = 0, slope = 0, manning_n = 0, rain = 0; // rain [m/s]
  double from_above = 0;                                 // m2/s that arrives at the top
};

struct Water {
  double volume = 0;    // m2: per metre of width
  double top_depth = 0; // m
};

// Marched upward, the way in which errors die out, from the depth at the foot [m]; normal depth where it is
// 0.
inline Water water_on(const Plane& plane, double foot_depth = 0) {
  const auto gradient = [&](double x, double h) {
    const double q = plane.from_above + plane.rain * x;
    return plane.slope - std::pow(plane.manning_n * q, 2) / std::pow(h, 10.0 / 3.0);
  };
  const double q_foot = plane.from_above + plane.rain * plane.length;
  double h = foot_depth > 0 ? foot_depth : std::pow(q_foot * plane.manning_n / std::sqrt(plane.slope), 0.6);
  const double top = plane.from_above > 0 ? 0 : 0.02; // m: above it h grows as x^0.6 from nothing
  const int steps = static_cast<int>(std::ceil((plane.length - top) / 1e-4));
  const double dx = (plane.length - top) / steps;
  Water water;
  for (int k = 0; k < steps; ++k) {
    const double x = plane.length - k * dx;
    const double next = h - dx * gradient(x - dx / 2, h - dx / 2 * gradient(x, h));
    water.volume += 0.5 * (h + next) * dx;
    h = next;
  }
  water.volume += h * top / 1.6;
  water.top_depth = h;
  return water;
}

} // namespace steady
