// Eight slots side by side, in the vector types of the compiler: whatever the machine, it finds instructions.
#pragma once
#include <cstdint>
#include <cstring>

#include <lowspot/surface/friction.hpp>

#if defined(__GNUC__)
#pragma GCC diagnostic ignored "-Wpsabi" // nothing here is called across files
#endif

namespace lowspot::surface {

// How many slots are worked on at once.
constexpr int lanes = 8;
// That many numbers of single precision.
using Singles = float __attribute__((vector_size(4 * lanes)));
// As many of double precision, where sums need it.
using Doubles = double __attribute__((vector_size(8 * lanes)));
using Ints = std::int32_t __attribute__((vector_size(4 * lanes))); // also what is true (all bits) of Singles
// The bits of numbers, where what is wanted of slots without a meaning may pass their range.
using Patterns = unsigned __attribute__((vector_size(4 * lanes)));
using Longs = std::int64_t __attribute__((vector_size(8 * lanes))); // likewise of Doubles
using Bytes = std::int8_t __attribute__((vector_size(lanes)));      // likewise of one byte a slot

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

// The larger and the smaller number of each slot: as of one number, here since the templates in friction.hpp
// would warn about vectors.
LOWSPOT_INLINE Singles larger(Singles a, Singles b) {
  return a > b ? a : b;
}
// As above.
LOWSPOT_INLINE Singles smaller(Singles a, Singles b) {
  return a < b ? a : b;
}

// x^(-1/2): see inverse_root() of one number.
LOWSPOT_INLINE Singles inverse_root(Singles x) {
  Patterns bits;
  std::memcpy(&bits, &x, sizeof x);
  bits = 0x5f374600u - (bits >> 1);
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

// e^x: see exponential() of one number.
LOWSPOT_INLINE Singles exponential(Singles x) {
  const Ints k =
      __builtin_convertvector(x * 1.44269504f + (x > 0.0f ? Singles{} + 0.5f : Singles{} - 0.5f), Ints);
  const Singles whole = __builtin_convertvector(k, Singles);
  const Singles r = (x - whole * 0.693359375f) + whole * 2.12194440e-4f; // ln 2 in two parts
  const Singles series =
      1.0f + r * (1.0f + r * (0.5f + r * (1.0f / 6 + r * (1.0f / 24 + r * (1.0f / 120 + r * (1.0f / 720))))));
  const Ints bits = (k + 127) << 23;
  Singles power;
  std::memcpy(&power, &bits, sizeof power);
  return series * power;
}

// x^(-1/4) for normal x > 0, relative error below 4e-7: one step with the polynomial of degree 4 that comes
// close to (1 - r)^(-1/4) over what the first guess leaves, |r| < 0.125.
LOWSPOT_INLINE Singles inverse_fourth_root(Singles x) {
  Patterns bits;
  std::memcpy(&bits, &x, sizeof x);
  bits = 0x4f582000u - (bits >> 2);
  Singles y;
  std::memcpy(&y, &bits, sizeof y);
  const Singles y2 = y * y, r = 1.0f - (x * y2) * y2;
  return y + (y * r) * (0.249997556f + r * (0.15624786f + r * (0.118451303f + r * 0.0963210911f)));
}

// Two numbers for each of eight slots, side by side in memory.
LOWSPOT_INLINE Longs together(Singles first, Singles second) {
  Ints a, b;
  std::memcpy(&a, &first, sizeof a);
  std::memcpy(&b, &second, sizeof b);
  return (__builtin_convertvector(b, Longs) << 32) | (__builtin_convertvector(a, Longs) & 0xffffffffLL);
}
// The first and the second of them.
LOWSPOT_INLINE Singles first_of(Longs pair) {
  const Ints bits = __builtin_convertvector(pair, Ints);
  Singles result;
  std::memcpy(&result, &bits, sizeof result);
  return result;
}
// As above.
LOWSPOT_INLINE Singles second_of(Longs pair) {
  return first_of(pair >> 32);
}

} // namespace lowspot::surface
