// Roots without library calls, and the friction law solved for the new discharge, as the row kernels need
// them: plain arithmetic that a compiler turns into vector instructions.
#pragma once
#include <cstdint>

// Row kernels are compiled for several instruction sets; the one for the machine at hand is taken at load
// time.
#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__) && defined(__linux__)
#define LOWSPOT_VECTOR_CLONES __attribute__((target_clones("default", "arch=x86-64-v3", "arch=x86-64-v4")))
#else
#define LOWSPOT_VECTOR_CLONES
#endif
#if defined(__GNUC__)
#define LOWSPOT_INLINE inline __attribute__((always_inline))
#else
#define LOWSPOT_INLINE inline
#endif

namespace lowspot::surface {

constexpr double gravity = 9.81;     // m/s2
constexpr double dry_depth = 1e-9;   // m: thinner films do not move
constexpr double froude_limit = 4.0; // films on cliffs flow no faster than this Froude number

// x^(-1/3) for normal x > 0, relative error below 1e-11. The third of the exponent gives 3 %; two steps of
// the binomial series of (1 - r)^(-1/3) do the rest.
LOWSPOT_INLINE double inverse_cube_root(double x) {
  const std::uint64_t third = (__builtin_bit_cast(std::uint64_t, x) >> 32) * 0x55555556ull;
  double y = __builtin_bit_cast(double, 0x553ee80000000000ull - third);
  double r = 1.0 - x * y * (y * y);
  y = y * (1.0 + r * (1.0 / 3 + r * (2.0 / 9 + r * (14.0 / 81 + r * (35.0 / 243)))));
  r = 1.0 - x * y * (y * y);
  return y + y * r * (1.0 / 3);
}

// x^(-1/2) for normal x > 0, relative error below 1e-10; finite for x = 0, so that x * inverse_root(x) is 0.
LOWSPOT_INLINE double inverse_root(double x) {
  const std::uint64_t bits = __builtin_bit_cast(std::uint64_t, x);
  double y = __builtin_bit_cast(double, 0x5fe6eb50c7b537a9ull - (bits >> 1));
  double r = 1.0 - x * y * y;
  y = y * (1.0 + r * (0.5 + r * (0.375 + r * 0.3125)));
  r = 1.0 - x * y * y;
  return y + y * r * 0.5;
}

LOWSPOT_INLINE double larger(double a, double b) {
  return a > b ? a : b;
}
LOWSPOT_INLINE double smaller(double a, double b) {
  return a < b ? a : b;
}
LOWSPOT_INLINE double magnitude(double a) {
  return a < 0 ? -a : a;
}

// The discharge q that solves q (1 + b sqrt(q^2 + t^2)) = x, for b >= 0 and the transverse discharge t, in
// two halves. The root is replaced by its tangent at the old discharge, which makes the equation quadratic:
// exact when the flow is steady, of second order in its change otherwise, never below the true solution.
// Where the old discharge says little (a face that has just become wet) a lower bound of the solution stands
// in. q = x / (half + sqrt(squared)), with x >= 0 here.
LOWSPOT_INLINE void friction_quadratic(double x, double b, double transverse, double old_discharge,
                                       double& half, double& squared) {
  const double t = magnitude(transverse);
  const double bt = b * t, bx = b * x;
  const double c = 1.0 + bt;
  const double bound = x * c / (c * c + bx);
  const double guess = larger(magnitude(old_discharge), bound);
  const double inverse = inverse_root(guess * guess + t * t);
  half = 0.5 + (0.5 * bt) * (t * inverse);
  squared = half * half + bx * (guess * inverse);
}
LOWSPOT_INLINE double friction_root(double x, double half, double squared) {
  return x / (half + squared * inverse_root(squared));
}

LOWSPOT_INLINE double discharge_against_friction(double x, double b, double transverse,
                                                 double old_discharge) {
  double half = 0, squared = 0;
  friction_quadratic(magnitude(x), b, transverse, old_discharge, half, squared);
  return friction_root(x, half, squared);
}

} // namespace lowspot::surface
