// The balance of a cell that gives water away during a step, solved for what is left at its end.
#pragma once
#include <algorithm>
#include <cmath>

#include <lowspot/surface/route_lanes.hpp>

namespace lowspot::surface {

// x^(1/3) for normal x > 0, relative error below 1e-10.
LOWSPOT_INLINE double cube_root(double x) {
  const double inverse = inverse_cube_root(x);
  return x * inverse * inverse;
}

// Change of a root, relative, at which Newton's method stops; the next would be about that squared.
constexpr double root_converged = 1e-3;
// The same where the next change need not be smaller than this one.
constexpr double root_settled = 3e-6;

// The y that solves y^3 + a y^5 = b for a, b >= 0, from a guess: the depth y^3 left of b [m] in a cell that
// loses a h^(5/3) in a step. Relative error of y below 1e-5.
inline double drained_root(double a, double b, double guess) {
  // The left side is convex and rises: from above Newton's method falls to the root, from below one step
  // takes it above. b^(1/3) is never below the root.
  if (!(b > 0)) return 0;
  double y = guess > 0 ? guess : cube_root(b);
  for (int k = 0; k < 100; ++k) {
    const double y2 = y * y, misfit = y * y2 * (1 + a * y2) - b;
    double next = y - misfit / (y2 * (3 + 5 * a * y2));
    if (next > 1.3 * y) next = std::min(next, cube_root(b));
    const double change = std::abs(next - y);
    y = next;
    if (change <= root_converged * y) break;
  }
  return y;
}

// The y = h^(1/3) that solves h + a h^(5/3) (own h + drop)^(1/2) = b, from a guess of y; b^(1/3) where
// nothing falls. Relative error of y below 1e-5.
inline double drained_root(double a, double own, double drop, double b, double guess) {
  if (!(own * b + drop > 0)) return cube_root(b);
  if (drop > 0.02 * own * b) {
    // In y the left side is convex and rises: as above.
    double y = guess > 0 ? guess : cube_root(b);
    for (int k = 0; k < 100; ++k) {
      const double y2 = y * y, h = y * y2, ah = a * h, fall = own * h + drop;
      const double root = static_cast<double>(__builtin_sqrtf(static_cast<float>(fall)));
      const double misfit = h + ah * y2 * root - b;
      double next = y - misfit * root / (3 * y2 * root + ah * y * (5 * fall + 1.5 * own * h));
      if (next > 1.3 * y) next = std::min(next, cube_root(b));
      const double change = std::abs(next - y);
      y = next;
      if (change <= root_converged * y) break;
    }
    return y;
  }
  // In u = (own h + drop)^(1/2), where that may come near nothing, likewise; u_most is never below the root.
  const double u_most = std::sqrt(own * b + drop), per_own = 1 / own;
  const double before = guess * guess * guess;
  double u = std::sqrt(std::clamp(own * before + drop, 0.0, own * b + drop));
  for (int k = 0; k < 100; ++k) {
    const double h = std::max((u * u - drop) * per_own, 1e-30);
    const double y = inverse_cube_root(h), power = h * h * y; // h^(5/3)
    const double misfit = h + a * power * u - b;
    const double slope = 2 * u * per_own + a * (power + (10.0 / 3.0) * u * u * h * y * per_own);
    const double next = slope > 0 ? std::min(u - misfit / slope, u_most) : u_most;
    const double change = std::abs(next - u);
    u = next;
    // Near the level at which nothing falls, u may still change by much of itself while the depth hardly
    // does; the next change is small beside this one only where this one is small beside u.
    if (change <= root_converged * u || 2 * u * change * per_own <= 3 * root_settled * h) break;
  }
  const double h = std::clamp((u * u - drop) * per_own, 0.0, b);
  return h > 0 ? cube_root(h) : 0.0;
}

// The water below is taken to rise with the level here (own, drop) no further than from this multiple of the
// depth of the last profile, and this much more [m]: what is more falls to it by as much. A stream that is
// led another way all at once would else stand as high as it takes to pass on a small fall.
constexpr double follows_to = 1.5, follows_more = 0.01;

// The same where the depth may be far above that of the last profile [m].
inline double drained_root(double a, double own, double drop, double b, double guess, double profile) {
  const double y = drained_root(a, own, drop, b, guess), far = follows_to * profile + follows_more;
  if (!(own > 0) || !(y * y * y > far)) return y;
  return drained_root(a, 1.0, own * far + drop - far, b, y);
}

// Change of a root, relative, at which the method of third order stops; the next would be below 2e-6.
constexpr float third_order_converged = 0.01f;

// The roots y = h^(1/3) of eight balances h + a h^(5/3) (own h + drop)^(1/2) = b: see drained_root(), in
// single precision; relative error of y below 1e-5 too. Lanes not `wet` give any number. A root is the same
// whatever the other lanes hold.
LOWSPOT_INLINE Singles drained_roots(Singles a, Singles own, Singles drop, Singles b, Singles guess,
                                     Ints wet) {
  const Singles nothing = {}, one = nothing + 1.0f;
  b = wet ? b : one;
  a = wet ? a : nothing;
  const Singles thin = inverse_cube_root(b), most = b * thin * thin; // b^(1/3)
  if (any(guess <= nothing)) guess = guess > nothing ? guess : most; // rare: nothing need wait for `most`
  const Ints apart = wet & (drop <= 0.02f * own * b);
  Ints going = wet & ~apart;
  const Singles a_ = apart ? nothing : a, drop_ = apart ? one : drop;
  Singles y = guess;
  for (int k = 0; k < 30; ++k) {
    // Of third order (Chebyshev 1838): Newton and a correction by the curvature, held where it is far off.
    const Singles y2 = y * y, h = y * y2, own_h = own * h, fall = own_h + drop_;
    const Singles inverse = inverse_root(fall), w = own_h * (inverse * inverse),
                  t = a_ * h * (fall * inverse);
    const Singles per_slope = 1.0f / (3.0f * y2 + t * y * (5.0f + 1.5f * w));
    const Singles newton = (h + t * y2 - b) * per_slope;
    const Singles bend = (0.5f * newton) * per_slope * (6.0f * y + t * (20.0f + w * (18.0f - 2.25f * w)));
    const Singles next =
        smaller(y - newton * (1.0f + smaller(larger(bend, nothing - 0.5f), nothing + 0.5f)), most);
    // A lane goes its own way, whatever its neighbours still have to do.
    const Singles change = next > y ? next - y : y - next;
    y = going ? next : y;
    going &= change > third_order_converged * next;
    if (!any(going)) break;
  }
  if (!any(apart)) return y;
  // Where the fall u^2 may come near nothing: in u.
  const Singles highest = own * b + drop, per_own = 1.0f / larger(own, nothing + 1e-30f);
  const Ints falls = apart & (highest > nothing);
  const Singles u_most = highest * inverse_root(larger(highest, nothing + 1e-30f));
  const Singles first = own * (guess * guess * guess) + drop;
  Singles u =
      first > nothing ? smaller(first * inverse_root(larger(first, nothing + 1e-30f)), u_most) : nothing;
  going = falls;
  for (int k = 0; k < 30; ++k) {
    const Singles h = larger((u * u - drop) * per_own, nothing + 1e-30f);
    const Singles inverse = inverse_cube_root(h), power = h * h * inverse; // h^(5/3)
    const Singles misfit = h + a * power * u - b;
    const Singles slope = 2.0f * u * per_own + a * (power + (10.0f / 3) * u * u * h * inverse * per_own);
    const Singles next = slope > nothing ? smaller(u - misfit / slope, u_most) : u_most;
    const Singles change = next > u ? next - u : u - next;
    u = going ? next : u;
    going &= (change > static_cast<float>(root_converged) * u) &
             (2.0f * u * change * per_own > static_cast<float>(3 * root_settled) * h);
    if (!any(going)) break;
  }
  const Singles h = smaller(larger((u * u - drop) * per_own, nothing + 1e-30f), b);
  const Singles inverse = inverse_cube_root(h);
  return falls ? h * inverse * inverse : apart ? most : y;
}

} // namespace lowspot::surface
