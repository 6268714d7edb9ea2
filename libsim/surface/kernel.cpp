#include <lowspot/surface/kernel.hpp>

#include <lowspot/surface/frame.hpp>
#include <lowspot/surface/friction.hpp>

namespace lowspot::surface {
namespace {

// Non-negative numbers are ordered like their bits, and a maximum of integers vectorises.
LOWSPOT_INLINE std::int32_t bits_of(float value) {
  return __builtin_bit_cast(std::int32_t, value);
}

// A stretch of faces is worked through in four short loops rather than one long one, whose chain of dependent
// operations would leave the arithmetic units waiting. What passes between the loops stays in first-level
// cache.
constexpr int stretch = 128;
struct Between {
  alignas(64) float h[stretch]; // m, at least dry_depth
  float push[stretch];          // m: fall of the water surface from a to b, carried on in time
  float roughness[stretch];     // n squared
  float inverse[stretch];       // h^(-1/3)
  float transverse[stretch];    // m2/s
  float x[stretch];             // m2/s: discharge before friction, 0 on dry faces
  float b[stretch];             // s/m2: friction
};

constexpr double squared(double value) {
  return value * value;
}

// The numbers of a step as the faces need them.
struct FaceNumbers {
  explicit FaceNumbers(const StepNumbers& numbers)
      : dt(static_cast<float>(numbers.dt)), dt_by_cell(static_cast<float>(numbers.dt * numbers.inverse_cell)),
        cliff(static_cast<float>(numbers.inverse_cell / (froude_limit * froude_limit * gravity))),
        cap(static_cast<float>(numbers.celerity_cap)),
        allowed_drop(static_cast<float>(2 * gravity * capped_slope / numbers.inverse_cell)),
        floor_factor(static_cast<float>(numbers.floor_factor)),
        stable(
            static_cast<float>(1 / squared(numbers.dt * numbers.inverse_cell) / (2 + 4 * numbers.foresight))),
        foresight(static_cast<float>(numbers.foresight)) {}
  float dt, dt_by_cell, cliff, cap, allowed_drop, floor_factor, stable, foresight;
};

// What flows, and how rough its way is, is that of the upper cell. Down a slope its depth is carried on to
// the face by the smaller of the changes on either side (nothing at crests and hollows), which leaves a fifth
// of the error. Carried on by half a cell, steps forward in time would leave ripples of 0.4 %.
LOWSPOT_INLINE void find_depths(const FaceRow& row, float foresight, int from, int count, Between& between) {
  constexpr float carried = 0.4f, dry = static_cast<float>(dry_depth);
  const double *level_a = row.level_a + from, *level_b = row.level_b + from;
  const float *change_a = row.change_a + from, *change_b = row.change_b + from;
  const float *rise_a = row.rise_a + from, *rise_b = row.rise_b + from;
  const float *h_a = row.h_a + from, *h_b = row.h_b + from;
  const float *h_behind_a = row.h_behind_a + from, *h_behind_b = row.h_behind_b + from;
  const float *roughness_a = row.roughness_a + from, *roughness_b = row.roughness_b + from;
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
    between.push[k] = fall + foresight * (change_a[k] - change_b[k]);
    between.roughness[k] = fall > 0 ? n_a : n_b;
  }
}

// Any positive celerity leaves steady Manning flow and still water as they are. The cap lengthens the step in
// pools, where it distorts the inertia of the flow by V^2 / G. It is therefore raised to six times the
// speed, and to what water comes to by falling over an edge, lest a deep pool whose dam gives way stay
// behind. The floor, from the kinematic celerity, keeps fast thin flow stable (Whitham's criterion). Flow
// that passes a face at more than 60 degrees is another face's concern. What goes beyond the floor is held to
// what is stable in this step: the first step of a sudden rush is slow, not wild. Returns the bits of the
// largest G wanted.
LOWSPOT_INLINE std::int32_t find_forces(const FaceRow& row, const FaceNumbers& n, int from, int count,
                                        Between& between) {
  constexpr float dry = static_cast<float>(dry_depth), g = static_cast<float>(gravity);
  constexpr float fastest = static_cast<float>(froude_limit * froude_limit * gravity);
  constexpr float unsteady = static_cast<float>(cap_over_speed * cap_over_speed);
  constexpr float still = 1e-15f; // m2/s: less than this is rounding of levels
  const float* q = row.q + from;
  const float *t1 = row.t1 + from, *t2 = row.t2 + from, *t3 = row.t3 + from, *t4 = row.t4 + from;
  const FaceNumbers numbers = n;
  std::int32_t most = 0;
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
    const float dropped = 2.0f * g * magnitude(push) - numbers.allowed_drop;
    const float least = numbers.floor_factor * speed;
    const float gravity_wave = g * h, kept = larger(numbers.cap, unsteady * speed);
    // A push that grows with the square of the slope is twice as stiff as its celerity says.
    const float wanted_wave = larger(smaller(gravity_wave, larger(kept, 2.0f * dropped)), least);
    const float raised = larger(kept, smaller(dropped, 0.5f * numbers.stable));
    const float wave = larger(smaller(smaller(gravity_wave, raised), numbers.stable), least);
    // Manning's slope per q^2, never so little that the Froude limit is passed.
    const float resistance = y9 * larger(between.roughness[k] * y, magnitude(push) * numbers.cliff);
    const float wanted = here + wave * (push * numbers.dt_by_cell);
    // Masks of bits, since the compiler would weave conditions together that have nothing to do with each
    // other.
    const std::int32_t wet = h > dry ? -1 : 0, pushed = magnitude(wanted) > still ? -1 : 0;
    between.transverse[k] = transverse;
    between.x[k] = __builtin_bit_cast(float, bits_of(wanted) & (wet & pushed));
    between.b[k] = smaller((wave * numbers.dt) * resistance, largest_friction);
    const std::int32_t bits = bits_of(wanted_wave) & wet;
    most = bits > most ? bits : most;
  }
  return most;
}

} // namespace

// A yard and its mirror image must give the same water to the last bit: every sum keeps its order when west
// and east, south and north, or x and y change places.
LOWSPOT_VECTOR_CLONES
float face_row(const FaceRow& row, const StepNumbers& numbers) {
  const FaceNumbers face_numbers(numbers);
  Between between;
  std::int32_t most = 0;
  for (int from = 0; from < row.count; from += stretch) {
    const int left = row.count - from;
    const int count = left < stretch ? (left + Frame::vector - 1) / Frame::vector * Frame::vector : stretch;
    find_depths(row, face_numbers.foresight, from, count, between);
#pragma GCC ivdep
    for (int k = 0; k < count; ++k) between.inverse[k] = inverse_cube_root(between.h[k]);
    const std::int32_t bits = find_forces(row, face_numbers, from, count, between);
    most = bits > most ? bits : most;
    const float* q = row.q + from;
    float* q_new = row.q_new + from;
#pragma GCC ivdep
    for (int k = 0; k < count; ++k)
      q_new[k] = discharge_against_friction(between.x[k], between.b[k], between.transverse[k], q[k]);
  }
  return __builtin_bit_cast(float, most);
}

namespace {

// A hair less than everything, so that rounding in single precision cannot make the depth negative.
constexpr float nearly_all = 1.0f - 1e-6f;

template <class Number>
LOWSPOT_INLINE Number outflow(Number west, Number east, Number south, Number north) {
  return (larger(east, Number(0)) - smaller(west, Number(0))) +
         (larger(north, Number(0)) - smaller(south, Number(0)));
}

} // namespace

LOWSPOT_VECTOR_CLONES
bool overdrawn(const CellRow& row, const StepNumbers& numbers) {
  const float *q_x = row.q_x, *q_south = row.q_south, *q_north = row.q_north, *mobile = row.mobile;
  const float factor = static_cast<float>(numbers.dt * numbers.inverse_cell);
  std::int32_t some = 0;
  for (int i = 0; i < row.count; ++i) {
    const float out = factor * outflow(q_x[i], q_x[i + 1], q_south[i], q_north[i]);
    some |= out > mobile[i] * nearly_all ? 1 : 0;
  }
  return some != 0;
}

LOWSPOT_VECTOR_CLONES
void limit_row(const CellRow& row, const StepNumbers& numbers) {
  const float *q_x = row.q_x, *q_south = row.q_south, *q_north = row.q_north, *mobile = row.mobile;
  float* share = row.share;
  const float factor = static_cast<float>(numbers.dt * numbers.inverse_cell);
#pragma GCC ivdep
  for (int i = 0; i < row.count; ++i) {
    const float out = factor * outflow(q_x[i], q_x[i + 1], q_south[i], q_north[i]);
    const float able = mobile[i] * nearly_all;
    const float part = able / larger(out, 1e-30f);
    share[i] = out > able ? part : 1.0f;
  }
}

LOWSPOT_VECTOR_CLONES
void scale_row(float* q, const float* share_a, const float* share_b, int count) {
  float* value = q;
#pragma GCC ivdep
  for (int k = 0; k < count; ++k) value[k] = value[k] * (value[k] > 0 ? share_a[k] : share_b[k]);
}

LOWSPOT_VECTOR_CLONES
void add_row(double* sum, const float* q, double dt, int count) {
#pragma GCC ivdep
  for (int k = 0; k < count; ++k) sum[k] += static_cast<double>(q[k]) * dt;
}

LOWSPOT_VECTOR_CLONES
bool take_rates(const double* rates, const unsigned char* active, double* taken, int count, double& most) {
  std::int64_t most_bits = 0, wrong = 0; // ordered like the numbers, while none is negative
#pragma GCC ivdep
  for (int c = 0; c < count; ++c) {
    const std::int64_t mask = active[c] != 0 ? -1 : 0;
    const std::int64_t bits = __builtin_bit_cast(std::int64_t, rates[c] + 0.0) & mask;
    const double rate = __builtin_bit_cast(double, bits);
    taken[c] = rate;
    wrong |= rate >= 0 ? 0 : 1;
    most_bits = bits > most_bits ? bits : most_bits;
  }
  if (wrong == 0) most = larger(most, __builtin_bit_cast(double, most_bits));
  return wrong == 0;
}

LOWSPOT_VECTOR_CLONES
bool all_finite(const double* values, int count) {
  constexpr std::int64_t exponent = 0x7ff0000000000000;
  std::int64_t wrong = 0;
  for (int k = 0; k < count; ++k)
    wrong |= (__builtin_bit_cast(std::int64_t, values[k]) & exponent) == exponent ? 1 : 0;
  return wrong == 0;
}

LOWSPOT_VECTOR_CLONES
void roughness_row(const RoughnessRow& row) {
  const float *mobile = row.mobile, *thin = row.thin, *log_ratio = row.log_ratio, *bend = row.bend;
  float* n_squared = row.n_squared;
#pragma GCC ivdep
  for (int i = 0; i < row.count; ++i)
    n_squared[i] = bent_roughness(mobile[i], thin[i], log_ratio[i], bend[i]);
}

LOWSPOT_VECTOR_CLONES
float update_row(const CellRow& row, const StepNumbers& numbers) {
  const float *q_x = row.q_x, *q_south = row.q_south, *q_north = row.q_north;
  const double *storage = row.storage, *bed = row.bed, *supply = row.supply, *sink = row.sink;
  double *depth = row.depth, *level = row.level, *taken = row.taken;
  float *mobile = row.mobile, *change = row.change;
  const double dt = numbers.dt, factor = numbers.dt * numbers.inverse_cell;
  const int count = row.count;
  std::int32_t most = 0;
#pragma GCC ivdep
  for (int i = 0; i < count; ++i) {
    const double west = q_x[i], east = q_x[i + 1], south = q_south[i], north = q_north[i];
    const double inflow = (west - east) + (south - north);
    const double offered = depth[i] + factor * inflow + supply[i] * dt;
    const double take = smaller(sink[i] * dt, offered);
    const double left = offered - take;
    const double h = larger(left - storage[i], 0.0);
    const float narrow = static_cast<float>(h);
    taken[i] += take;
    depth[i] = left;
    const double risen = bed[i] + h;
    change[i] = static_cast<float>(risen - level[i]);
    level[i] = risen;
    mobile[i] = narrow;
    const std::int32_t bits = bits_of(narrow);
    most = bits > most ? bits : most;
  }
  return __builtin_bit_cast(float, most);
}

} // namespace lowspot::surface
