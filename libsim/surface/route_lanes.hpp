// Eight slots side by side, in the vector types of the compiler: whatever the machine, it finds instructions.
#pragma once
#include <cstdint>
#include <cstring>

#include <lowspot/surface/friction.hpp>

#if defined(__GNUC__)
#pragma GCC diagnostic ignored "-Wpsabi" // nothing here is called across files
#endif

namespace lowspot::surface {

constexpr int lanes = 8;
using Singles = float __attribute__((vector_size(4 * lanes)));
using Doubles = double __attribute__((vector_size(8 * lanes)));
using Ints = std::int32_t __attribute__((vector_size(4 * lanes)));  // also what is true (all bits) of Singles
using Longs = std::int64_t __attribute__((vector_size(8 * lanes))); // likewise of Doubles
using Bytes = std::int8_t __attribute__((vector_size(lanes)));

// Eight numbers that lie side by side.
template <class Vector, class Number>
LOWSPOT_INLINE Vector load(const Number* from) {
  Vector result;
  static_assert(sizeof(Vector) == lanes * sizeof(Number));
  std::memcpy(&result, from, sizeof(Vector));
  return result;
}

// Puts them there.
template <class Vector, class Number>
LOWSPOT_INLINE void store(Vector values, Number* to) {
  static_assert(sizeof(Vector) == lanes * sizeof(Number));
  std::memcpy(to, &values, sizeof(Vector));
}

// The numbers at eight places of a list.
template <class Vector, class Number>
LOWSPOT_INLINE Vector pick(const Number* from, const int* at) {
  const Vector result = {from[at[0]], from[at[1]], from[at[2]], from[at[3]],
                         from[at[4]], from[at[5]], from[at[6]], from[at[7]]};
  return result;
}

// The same numbers, rounded.
LOWSPOT_INLINE Singles singles(Doubles x) {
  return __builtin_convertvector(x, Singles);
}
// The same numbers.
LOWSPOT_INLINE Doubles doubles(Singles x) {
  return __builtin_convertvector(x, Doubles);
}
// The same truths for Doubles.
LOWSPOT_INLINE Longs wide(Ints truth) {
  return __builtin_convertvector(truth, Longs);
}
// The same truths for Singles.
LOWSPOT_INLINE Ints narrow(Longs truth) {
  return __builtin_convertvector(truth, Ints);
}

// Whether any is not 0.
LOWSPOT_INLINE bool any(Bytes numbers) {
  std::int64_t together = 0;
  std::memcpy(&together, &numbers, lanes);
  return together != 0;
}
// Whether it is true in any slot.
LOWSPOT_INLINE bool any(Ints truth) {
  return any(__builtin_convertvector(truth, Bytes));
}

// x^(-1/2): see inverse_root() of one number.
LOWSPOT_INLINE Singles inverse_root(Singles x) {
  Ints bits;
  std::memcpy(&bits, &x, sizeof x);
  bits = 0x5f374600 - (bits >> 1);
  Singles y;
  std::memcpy(&y, &bits, sizeof y);
  const Singles r = 1.0f - (x * y) * y;
  return y + (y * r) * (0.499998339f + r * (0.374998375f + r * (0.313931928f + r * 0.274779586f)));
}

// x^(-1/3): see inverse_cube_root() of one number.
LOWSPOT_INLINE Singles inverse_cube_root(Singles x) {
  Ints bits;
  std::memcpy(&bits, &x, sizeof x);
  bits = 0x54a1f600 - __builtin_convertvector(__builtin_convertvector(bits, Singles) * (1.0f / 3), Ints);
  Singles y;
  std::memcpy(&y, &bits, sizeof y);
  const Singles r = 1.0f - (x * y) * (y * y);
  return y + (y * r) * (0.333329062f + r * (0.222218529f + r * (0.17447745f + r * 0.145475865f)));
}

} // namespace lowspot::surface
