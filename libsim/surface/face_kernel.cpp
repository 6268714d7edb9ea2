#include <lowspot/surface/face_kernel.hpp>

#include <cstdint>

#include <lowspot/surface/frame.hpp>
#include <lowspot/surface/friction.hpp>

namespace lowspot::surface {
namespace {

// A stretch of faces is worked through in four short loops rather than one long one, whose chain of dependent
// operations would leave the arithmetic units waiting. What passes between the loops stays in first-level
// cache.
constexpr int stretch = 128;
// The faces of the next stretch, in whole vectors.
constexpr int vectors_of(int left) {
  return left < stretch ? (left + Frame::vector - 1) / Frame::vector * Frame::vector : stretch;
}
// Where a kinematic wave, floor included, passes more than this part of a cell in a step, quick steps are
// made in full.
constexpr double kinematic_limit = 0.32;
constexpr float seen = 2e-6f; // m: smaller changes of a level are not worth a full step
constexpr std::int32_t sign_bit = INT32_MIN;
// The bits of the largest G wanted, and how many faces are wet and rush.
struct FaceBits {
  std::int32_t most = 0, wet = 0, rushing = 0;
};
// What else a full step is for than its discharges: quick ones after it, or faces of a quick one.
enum class For { nothing, quick, parts };
struct Between {
  alignas(64) float h[stretch]; // m, at least dry_depth
  float change[stretch];        // m: of the levels on either side, the larger
  float push[stretch];          // m: fall of the water surface from a to b, carried on in time
  float roughness[stretch];     // n squared of the way
  float softening[stretch];     // 1/m: how much of that goes with depth, for quick steps
  float x[stretch];             // m2/s: discharge before friction, 0 on dry faces
  float b[stretch];             // s/m2: friction
  float inverse[stretch];       // m^(-1/3): depth to the power -1/3
  float transverse[stretch];    // m2/s: discharge across, where nothing is kept
};

// What flows, and how rough its way is, is that of the upper cell. Down a slope its depth is carried on to
// the face by the smaller of the changes on either side (nothing at crests and hollows), which leaves a fifth
// of the error. Carried on by half a cell, steps forward in time would leave ripples of 0.4 %. Returns
// whether the two cells of some face are not as rough as each other.
template <For purpose>
LOWSPOT_INLINE bool find_depths(const FaceRow& row, float foresight, int from, int count, Between& between,
                                const Kept& kept) {
  constexpr float carried = 0.4f, dry = static_cast<float>(dry_depth);
  const double *level_a = row.level_a + from, *level_b = row.level_b + from;
  const float *change_a = row.change_a + from, *change_b = row.change_b + from;
  const float *rise_a = row.rise_a + from, *rise_b = row.rise_b + from;
  const float *h_a = row.h_a + from, *h_b = row.h_b + from;
  const float *h_behind_a = row.h_behind_a + from, *h_behind_b = row.h_behind_b + from;
  const float *roughness_a = row.roughness_a + from, *roughness_b = row.roughness_b + from;
  const float *softening_a = row.softening_a + from, *softening_b = row.softening_b + from;
  float* kept_upper = kept.upper;
  std::int32_t differ = 0;
#pragma GCC ivdep
  for (int k = 0; k < count; ++k) {
    // Everything is loaded before anything is chosen, since loads under a condition are slow.
    const float fall = static_cast<float>(level_a[k] - level_b[k]);
    const float depth_a = h_a[k], depth_b = h_b[k];
    const float step_a = depth_a - h_behind_a[k], step_b = depth_b - h_behind_b[k];
    const float above_a = rise_a[k], above_b = rise_b[k];
    const float n_a = roughness_a[k], n_b = roughness_b[k];
    const float difference = depth_b - depth_a;
    const float upper = fall > 0 ? depth_a : depth_b;
    const float above = fall > 0 ? above_a : above_b;
    const float ahead = fall > 0 ? difference : -difference;
    const float behind = fall > 0 ? step_a : step_b;
    const float change = larger(smaller(ahead, behind), 0.0f) + smaller(larger(ahead, behind), 0.0f);
    const float added = above > 0 ? -above : carried * change;
    between.h[k] = larger(upper + added, dry);
    const float changed_a = change_a[k], changed_b = change_b[k];
    between.push[k] = fall + foresight * (changed_a - changed_b);
    between.change[k] = larger(magnitude(changed_a), magnitude(changed_b));
    between.roughness[k] = fall > 0 ? n_a : n_b;
    if constexpr (purpose == For::quick) {
      const float soft_a = softening_a[k], soft_b = softening_b[k];
      between.softening[k] = fall > 0 ? soft_a : soft_b;
      kept_upper[k] = fall > 0 ? depth_a : -depth_b;
    }
    differ |= bits_of(n_a) ^ bits_of(n_b);
  }
  return differ != 0;
}

// Where the water beyond covers the face, half of the way is through it: its ground counts for half, the
// less the lower its water stands above the sill and the deeper it is.
LOWSPOT_INLINE void look_beyond(const FaceRow& row, int from, int count, Between& between) {
  const double *level_a = row.level_a + from, *level_b = row.level_b + from;
  const float *rise_a = row.rise_a + from, *rise_b = row.rise_b + from;
  const float *h_a = row.h_a + from, *h_b = row.h_b + from;
  const float *roughness_a = row.roughness_a + from, *roughness_b = row.roughness_b + from;
  const float* inverse = between.inverse;
#pragma GCC ivdep
  for (int k = 0; k < count; ++k) {
    const float fall = static_cast<float>(level_a[k] - level_b[k]);
    const float depth_a = h_a[k], depth_b = h_b[k], y = inverse[k];
    const float over_a = depth_a - rise_a[k], over_b = depth_b - rise_b[k];
    const float n_a = roughness_a[k], n_b = roughness_b[k];
    const float y3 = y * y * y;
    const float beyond = larger(fall > 0 ? over_b : over_a, 0.0f), lower = fall > 0 ? depth_b : depth_a;
    const float rougher = fall > 0 ? n_b - n_a : n_a - n_b;
    const float deeper = larger(lower * y3, 1.0f);
    const float part = 0.5f * smaller(beyond * y3, 1.0f) * rough_inverse(deeper * deeper * deeper);
    between.roughness[k] += part * rougher;
  }
}

// Over a wall, a crest above the beds on both sides, water passes at critical depth, 2/3 of its head over the
// crest (Belanger 1828), or at the depth of the water beyond where that is more: what the surface falls is
// then the head of the speed over the crest. It falls by x / 3 of the head there, at most a third: the depth
// is 1 - x / 3 of the head, and the series is one over its square. Put as a roughness, so that the rougher of
// wall and ground holds the water. A crest is no wall where it stands less than a third as high above either
// bed as water above the crest, and one in full where it stands a whole time higher than that.
LOWSPOT_INLINE void hold_at_walls(const FaceRow& row, float wall, int from, int count, Between& between) {
  const float *rise_a = row.rise_a + from, *rise_b = row.rise_b + from;
  const float* inverse = between.inverse;
#pragma GCC ivdep
  for (int k = 0; k < count; ++k) {
    const float above = smaller(rise_a[k], rise_b[k]);
    const float h = between.h[k], y = inverse[k], thrice = 3.0f * magnitude(between.push[k]);
    const float y3 = y * y * y;
    const float part = smaller(larger(above * y3 - 1.0f / 3, 0.0f), 1.0f);
    const float x = smaller(thrice * y3, 1.0f);
    const float series = 1.0f + x * (2.0f / 3 + x * (1.0f / 3 + x * 0.25f));
    const float held = (part * wall) * (larger(h, thrice) * series);
    between.roughness[k] = larger(between.roughness[k], held * (h * y * y));
  }
}

// Any positive celerity leaves steady Manning flow and still water as they are. The cap lengthens the step in
// pools, where it distorts the inertia of the flow by V^2 / G. It is therefore raised to three times the
// speed, to six times where water rises as fast as a front runs over flat ground, and to what water comes to
// by falling over an edge, lest a deep pool whose dam gives way stay behind: not to more than three times the
// speed at which friction would hold it on that slope. The floor, from the kinematic
// celerity, keeps fast thin flow stable (Whitham's criterion). Flow that passes a face at more than 60
// degrees is another face's concern. What goes beyond the floor is held to what is stable in this step: the
// first step of a sudden rush is slow, not wild. For parts, each G wanted takes the place of the push.
template <For purpose>
LOWSPOT_INLINE FaceBits find_forces(const FaceRow& row, const FaceNumbers& n, int from, int count,
                                    Between& between, const Kept& kept_numbers) {
  constexpr float dry = static_cast<float>(dry_depth), g = static_cast<float>(gravity);
  constexpr float fastest = static_cast<float>(froude_limit * froude_limit * gravity);
  constexpr float steady = static_cast<float>(cap_over_speed * cap_over_speed);
  constexpr float unsteady = static_cast<float>(unsteady_over_speed * unsteady_over_speed);
  constexpr float level = 1e-12f;      // m: less than this is rounding
  constexpr float still = 1e-15f;      // m2/s: less than this is rounding of levels
  constexpr float follows = 10.0f / 3; // Manning's slope goes with h^(-10/3)
  const float* q = row.q + from;
  const float *t1 = row.t1 + from, *t2 = row.t2 + from, *t3 = row.t3 + from, *t4 = row.t4 + from;
  float *force = kept_numbers.force, *friction = kept_numbers.friction, *across = kept_numbers.transverse;
  float* follow = kept_numbers.follow;
  const FaceNumbers numbers = n;
  std::int32_t most = 0, wet_faces = 0, rushing = 0;
#pragma GCC ivdep
  for (int k = 0; k < count; ++k) {
    const float h = between.h[k], y = between.inverse[k], push = between.push[k], here = q[k];
    const float y3 = y * y * y;
    const float y6 = y3 * y3; // h^-2
    const float y9 = y6 * y3; // h^-3
    const float transverse = 0.25f * ((t1[k] + t2[k]) + (t3[k] + t4[k]));
    const float own_square = here * here;
    const float vector_square = own_square + smaller(transverse * transverse, 3.0f * own_square);
    const float speed = smaller(vector_square * y6, fastest * h);
    // Manning's slope per q^2, never so little that the Froude limit is passed, times h^3.
    const float rough = larger(between.roughness[k] * y, magnitude(push) * numbers.cliff);
    const float normal = magnitude(push) * (numbers.cliff * fastest) * rough_inverse(y3 * rough);
    const float dropped = smaller(2.0f * g * magnitude(push) - numbers.allowed_drop, steady * normal);
    const float least = numbers.floor_factor * speed;
    const float gravity_wave = g * h, rising = numbers.unsteady * between.change[k] *
                                               rough_inverse(larger(magnitude(push), level)) *
                                               magnitude(here) * y3;
    const float kept = larger(numbers.cap, larger(steady * speed, smaller(unsteady * speed, rising)));
    // A push that grows with the square of the slope is twice as stiff as its celerity says.
    const float wanted_wave = larger(smaller(gravity_wave, larger(kept, 2.0f * dropped)), least);
    const float raised = larger(kept, smaller(dropped, 0.5f * numbers.stable));
    const float wave = larger(smaller(smaller(gravity_wave, raised), numbers.stable), least);
    const float resistance = y9 * rough;
    const float factor = wave * numbers.dt_by_cell;
    const float against = smaller((wave * numbers.dt) * resistance, largest_friction);
    const float wanted = here + factor * push;
    // Masks of bits, since the compiler would weave conditions together that have nothing to do with each
    // other.
    const std::int32_t wet = h > dry ? -1 : 0, pushed = magnitude(wanted) > still ? -1 : 0;
    across[k] = transverse;
    if constexpr (purpose == For::quick) {
      // Where numbers of some steps ago could be seen, the sign has quick steps made in full.
      const std::int32_t raised_wave = wanted_wave > smaller(gravity_wave, numbers.cap) ? -1 : 0;
      const std::int32_t drops = (dropped > 0 ? -1 : 0) & (gravity_wave > numbers.cap ? -1 : 0);
      const std::int32_t passes = least > numbers.passing ? -1 : 0;
      const std::int32_t changes = (between.change[k] - seen) * y3 > numbers.change_limit ? -1 : 0;
      const std::int32_t rushes = (raised_wave | drops | passes | changes) & wet;
      wet_faces -= wet;
      rushing -= rushes;
      force[k] = __builtin_bit_cast(float, (bits_of(factor) & wet) | (rushes & sign_bit));
      friction[k] = against;
      follow[k] = follows * y3 + between.softening[k];
    }
    between.x[k] = __builtin_bit_cast(float, bits_of(wanted) & (wet & pushed));
    between.b[k] = against;
    const std::int32_t bits = bits_of(wanted_wave) & wet;
    if constexpr (purpose == For::parts) between.push[k] = __builtin_bit_cast(float, bits);
    most = bits > most ? bits : most;
  }
  return {most, wet_faces, rushing};
}

// A full step for one stretch.
template <For purpose>
LOWSPOT_INLINE FaceBits full_stretch(const FaceRow& row, const FaceNumbers& numbers, int from, int count,
                                     Between& between, const Kept& kept, float* q_new) {
  const bool differ = find_depths<purpose>(row, numbers.foresight, from, count, between, kept);
#pragma GCC ivdep
  for (int k = 0; k < count; ++k) between.inverse[k] = inverse_cube_root(between.h[k]);
  if (differ) look_beyond(row, from, count, between);
  if (row.walls) hold_at_walls(row, numbers.wall, from, count, between);
  const FaceBits found = find_forces<purpose>(row, numbers, from, count, between, kept);
  const float *q = row.q + from, *transverse = kept.transverse;
#pragma GCC ivdep
  for (int k = 0; k < count; ++k)
    q_new[k] = discharge_against_friction(between.x[k], between.b[k], transverse[k], q[k]);
  return found;
}

Kept kept_between(Between& between) {
  return {nullptr, nullptr, between.transverse, nullptr, nullptr};
}

// Whether a quick step finds some of a vector of faces in full.
LOWSPOT_INLINE bool rushes_in(const float* force) {
  std::int32_t some = 0;
  for (int lane = 0; lane < Frame::vector; ++lane) some |= bits_of(force[lane]);
  return some < 0;
}

// A full step for those of some faces that quick steps find in full; the others keep what they have. Returns
// the bits of the largest G wanted by the former.
LOWSPOT_INLINE std::int32_t find_in_full(const FaceRow& row, const FaceNumbers& numbers, int from, int count,
                                         Between& between, const float* force, float* q_new) {
  alignas(64) float full[stretch];
  full_stretch<For::parts>(row, numbers, from, count, between, kept_between(between), full);
  std::int32_t most = 0;
#pragma GCC ivdep
  for (int k = 0; k < count; ++k) {
    const float quick = q_new[k], thorough = full[k];
    q_new[k] = force[k] < 0 ? thorough : quick;
    const std::int32_t bits = bits_of(between.push[k]) & (force[k] < 0 ? -1 : 0);
    most = bits > most ? bits : most;
  }
  return most;
}

constexpr double squared(double value) {
  return value * value;
}

} // namespace

FaceNumbers::FaceNumbers(const StepNumbers& numbers, double stable_celerity)
    : dt(static_cast<float>(numbers.dt)), dt_by_cell(static_cast<float>(numbers.dt * numbers.inverse_cell)),
      cliff(static_cast<float>(numbers.inverse_cell / (froude_limit * froude_limit * gravity))),
      wall(static_cast<float>(numbers.inverse_cell / (2 * gravity))),
      cap(static_cast<float>(numbers.celerity_cap)), stable(static_cast<float>(stable_celerity)),
      passing(static_cast<float>(squared(kinematic_limit / (numbers.dt * numbers.inverse_cell)))),
      allowed_drop(static_cast<float>(2 * gravity * capped_slope / numbers.inverse_cell)),
      floor_factor(static_cast<float>(numbers.floor_factor)),
      // Changes of a longer step say too much.
      foresight(static_cast<float>(numbers.foresight * smaller(numbers.dt / numbers.dt_before, 1.0))),
      unsteady(static_cast<float>(squared(unsteady_over_speed) / (numbers.inverse_cell * numbers.dt_before))),
      change_limit(0.03f / static_cast<float>(numbers.full_every > 1 ? numbers.full_every - 1 : 1)) {}

// A yard and its mirror image must give the same water to the last bit: every sum keeps its order when west
// and east, south and north, or x and y change places.
LOWSPOT_VECTOR_CLONES
FaceAnswer face_row(const FaceRow& row, const FaceNumbers& numbers) {
  const Kept& kept = row.kept;
  Between between;
  std::int32_t most = 0, wet = 0, rushing = 0;
  for (int from = 0; from < row.count; from += stretch) {
    const int count = vectors_of(row.count - from);
    float* q_new = row.q_new + from;
    const FaceBits found =
        kept.force
            ? full_stretch<For::quick>(row, numbers, from, count, between,
                                       {kept.force + from, kept.friction + from, kept.transverse + from,
                                        kept.follow + from, kept.upper + from},
                                       q_new)
            : full_stretch<For::nothing>(row, numbers, from, count, between, kept_between(between), q_new);
    most = found.most > most ? found.most : most;
    wet += found.wet;
    rushing += found.rushing;
  }
  return {__builtin_bit_cast(float, most), wet, rushing};
}

LOWSPOT_VECTOR_CLONES
FaceAnswer quick_face_row(const FaceRow& row, const FaceNumbers& numbers) {
  constexpr float still = 1e-15f, least = 1e-15f, most_change = 0.3f;
  const float foresight = numbers.foresight;
  Between between;
  std::int32_t most = 0;
  for (int from = 0; from < row.count; from += stretch) {
    const int count = vectors_of(row.count - from);
    const double *level_a = row.level_a + from, *level_b = row.level_b + from;
    const float *change_a = row.change_a + from, *change_b = row.change_b + from, *q = row.q + from;
    const float *force = row.kept.force + from, *friction = row.kept.friction + from;
    const float *transverse = row.kept.transverse + from, *follow = row.kept.follow + from;
    const float *upper = row.kept.upper + from, *h_a = row.h_a + from, *h_b = row.h_b + from;
    float* q_new = row.q_new + from;
    std::int32_t rushes = 0;
#pragma GCC ivdep
    for (int k = 0; k < count; ++k) {
      const float fall = static_cast<float>(level_a[k] - level_b[k]);
      const float a = change_a[k], c = change_b[k];
      const float depth_a = h_a[k], depth_b = h_b[k], before = upper[k];
      const float risen = ((before > 0 ? depth_a : depth_b) - magnitude(before)) * follow[k];
      const float wanted = q[k] + force[k] * (fall + foresight * (a - c));
      const std::int32_t pushed = magnitude(wanted) > still ? -1 : 0;
      rushes |= bits_of(force[k]);
      const float x = __builtin_bit_cast(float, bits_of(wanted) & pushed);
      const float b = friction[k] * (1.0f - smaller(larger(risen, -most_change), most_change));
      q_new[k] = discharge_near(x, b, transverse[k] * transverse[k], larger(magnitude(q[k]), least));
    }
    if (rushes >= 0) continue;
    // Those that must be found in full, in runs of whole vectors.
    for (int first = 0, last = 0; first < count; first = last + Frame::vector) {
      while (first < count && !rushes_in(force + first)) first += Frame::vector;
      for (last = first; last < count && rushes_in(force + last);) last += Frame::vector;
      if (last > first)
        most = larger(most, find_in_full(row, numbers, from + first, last - first, between, force + first,
                                         q_new + first));
    }
  }
  return {__builtin_bit_cast(float, most), 0, 0};
}

} // namespace lowspot::surface
