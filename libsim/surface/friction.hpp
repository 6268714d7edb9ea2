// Roots without library calls, and the friction law solved for the new discharge, as the row kernels need
// them: plain arithmetic that a compiler turns into vector instructions.
#pragma once
#include <cstdint>

// Row kernels are compiled for several instruction sets; the one for the machine at hand is taken at load
// time.
#if defined(LOWSPOT_VECTOR_CLONES) // given on the command line, to measure one instruction set
#elif defined(__SANITIZE_THREAD__) // whose checks are not yet there when the choice is made
#define LOWSPOT_VECTOR_CLONES
#elif defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__) && defined(__linux__)
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

constexpr double gravity = 9.81;            // m/s2
constexpr double dry_depth = 1e-9;          // m: thinner films do not move
constexpr double froude_limit = 4.0;        // films on cliffs flow no faster than this Froude number
constexpr double cap_over_speed = 3.0;      // least ratio of a capped celerity to the speed of the water
constexpr double unsteady_over_speed = 6.0; // the same where water rises as fast as it runs over flat ground
constexpr double capped_slope = 0.04; // of the water surface: the cap is raised where it falls more steeply

// Compiled to one instruction, in scalar and in vector code.
template <class Number>
LOWSPOT_INLINE Number larger(Number a, Number b) {
  return a > b ? a : b;
}
// As above.
template <class Number>
LOWSPOT_INLINE Number smaller(Number a, Number b) {
  return a < b ? a : b;
}
// Non-negative numbers are ordered like their bits, and a maximum of integers vectorises.
LOWSPOT_INLINE std::int32_t bits_of(float value) {
  return __builtin_bit_cast(std::int32_t, value);
}
LOWSPOT_INLINE float magnitude(float a) { // one instruction, unlike a comparison with 0
  return __builtin_fabsf(a);
}

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

// The same in single precision, relative error below 3e-7: one step with the polynomial of degree 4 that
// comes closest to (1 - r)^(-1/3) over what the first guess leaves, |r| < 0.103.
LOWSPOT_INLINE float inverse_cube_root(float x) {
  const float third = static_cast<float>(__builtin_bit_cast(std::int32_t, x)) * (1.0f / 3);
  const float y = __builtin_bit_cast(float, 0x54a1f600 - static_cast<std::int32_t>(third));
  const float r = 1.0f - (x * y) * (y * y);
  return y + (y * r) * (0.333329062f + r * (0.222218529f + r * (0.17447745f + r * 0.145475865f)));
}

// x^(-1/2) for normal x > 0, relative error below 2e-7, in the same way; finite for x = 0, so that
// x * inverse_root(x) is 0.
LOWSPOT_INLINE float inverse_root(float x) {
  const float y = __builtin_bit_cast(float, 0x5f374600 - (__builtin_bit_cast(std::int32_t, x) >> 1));
  const float r = 1.0f - (x * y) * y;
  return y + (y * r) * (0.499998339f + r * (0.374998375f + r * (0.313931928f + r * 0.274779586f)));
}

// 1 / x for normal x > 0 to 13 %: a place to start from.
LOWSPOT_INLINE float rough_inverse(float x) {
  return __builtin_bit_cast(float, 0x7ef311c7 - __builtin_bit_cast(std::int32_t, x));
}

// e^x for -80 < x < 80, relative error below 3e-7: 2^k times the series about the nearest power of two
// (Taylor to the sixth order, |r| < 0.35).
LOWSPOT_INLINE float exponential(float x) {
  const float k = static_cast<float>(static_cast<std::int32_t>(x * 1.44269504f + (x > 0 ? 0.5f : -0.5f)));
  const float r = (x - k * 0.693359375f) + k * 2.12194440e-4f; // ln 2 in two parts
  const float series =
      1.0f + r * (1.0f + r * (0.5f + r * (1.0f / 6 + r * (1.0f / 24 + r * (1.0f / 120 + r * (1.0f / 720))))));
  return series * __builtin_bit_cast(float, (static_cast<std::int32_t>(k) + 127) << 23);
}

// Manning's n squared at a depth h: constant up to half the height of the vegetation, then falling so that
// its logarithm is linear in depth, constant again above twice the height. bend: 1 / (1.5 height), 0 where
// nothing grows; log_ratio: of deep to thin.
LOWSPOT_INLINE float bent_roughness(float h, float thin, float log_ratio, float bend) {
  const float part = smaller(larger(h * bend - 1.0f / 3, 0.0f), 1.0f);
  return thin * exponential(part * log_ratio);
}
// The share of it that a metre more of depth takes [1/m].
LOWSPOT_INLINE float softening_at(float h, float log_ratio, float bend) {
  const float part = h * bend - 1.0f / 3;
  return part * (1.0f - part) > 0 ? -log_ratio * bend : 0.0f;
}

constexpr float largest_friction = 1e14f; // s/m2: keeps the squares below in range; such films do not flow

// The discharge q that solves q (1 + b sqrt(q^2 + t^2)) = x, for b >= 0 and the transverse discharge t. The
// root is replaced by its tangent at the old discharge, which makes the equation quadratic: exact when the
// flow is steady, of second order in its change otherwise, never below the true solution.
// Here the tangent is at `guess` > 0; across: t^2. b at most largest_friction.
LOWSPOT_INLINE float discharge_near(float x, float b, float across, float guess) {
  const float size = magnitude(x);
  const float w = b * inverse_root(guess * guess + across);
  const float half = 1.0f + w * across;
  const float squared = half * half + w * ((size + size) * (guess + guess));
  return (x + x) / (half + __builtin_sqrtf(squared));
}

// The same with the tangent at the old discharge. Where that says little (a face that has just become wet)
// something near a lower bound of the solution stands in for it.
LOWSPOT_INLINE float discharge_against_friction(float x, float b, float transverse, float old_discharge) {
  const float size = magnitude(x), across = transverse * transverse;
  const float bt = b * magnitude(transverse);
  const float c = 1.0f + bt;
  const float bound = (size * c) * rough_inverse(c * c + b * size);
  return discharge_near(x, b, across, larger(magnitude(old_discharge), bound));
}

} // namespace lowspot::surface
