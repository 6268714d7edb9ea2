#include <lowspot/surface/kernel.hpp>

#include <lowspot/surface/friction.hpp>

namespace lowspot::surface {

namespace {

// A stretch of faces is worked through in four short loops rather than one long one, whose chain of dependent
// operations would leave the arithmetic units waiting. What passes between the loops stays in first-level
// cache.
constexpr int stretch = 128;
struct Between {
  double h[stretch];                      // m, at least dry_depth
  double inverse[stretch];                // h^(-1/3)
  double slope[stretch];                  // of the water surface
  double roughness[stretch];              // n squared
  double transverse[stretch];             // m2/s
  double x[stretch];                      // m2/s: discharge before friction, 0 on dry faces
  double b[stretch];                      // s/m2: friction
  double half[stretch], squared[stretch]; // of the quadratic for the discharge, see friction.hpp
};

// What flows, and how rough its way is, is that of the upper cell. Down a slope its depth is carried on to
// the face by the smaller of the changes on either side (nothing at crests and hollows), which leaves a fifth
// of the error. Carried on by half a cell, steps forward in time would leave ripples of 0.4 %.
LOWSPOT_INLINE void find_depths(const FaceRow& row, double inverse_cell, int from, int count,
                                Between& between) {
  constexpr double carried = 0.4;
  const double *level_a = row.level_a + from, *level_b = row.level_b + from, *sill = row.sill + from;
  const double *h_a = row.h_a + from, *h_b = row.h_b + from;
  const double *h_behind_a = row.h_behind_a + from, *h_behind_b = row.h_behind_b + from;
  const double *roughness_a = row.roughness_a + from, *roughness_b = row.roughness_b + from;
#pragma GCC ivdep
  for (int k = 0; k < count; ++k) {
    // Everything is loaded before anything is chosen, since loads under a condition are slow.
    const double a = level_a[k], b = level_b[k];
    const double depth_a = h_a[k], depth_b = h_b[k];
    const double step_a = depth_a - h_behind_a[k], step_b = depth_b - h_behind_b[k];
    const double n_a = roughness_a[k], n_b = roughness_b[k];
    const double head = larger(a, b) - sill[k];
    const double upper = a > b ? depth_a : depth_b;
    const double difference = depth_b - depth_a;
    const double ahead = a > b ? difference : -difference;
    const double behind = a > b ? step_a : step_b;
    const double rise = larger(smaller(ahead, behind), 0.0) + smaller(larger(ahead, behind), 0.0);
    const double added = head >= upper * (1 - 1e-9) ? carried * rise : 0.0;
    between.h[k] = larger(head + added, dry_depth);
    between.slope[k] = (b - a) * inverse_cell;
    between.roughness[k] = a > b ? n_a : n_b;
  }
#pragma GCC ivdep
  for (int k = 0; k < count; ++k) between.inverse[k] = inverse_cube_root(between.h[k]);
}

// Any positive celerity leaves steady Manning flow and still water as they are. The cap lengthens the step in
// pools; the floor, from the kinematic celerity, keeps fast thin flow stable (Whitham's criterion). Flow that
// passes a face at more than 60 degrees is another face's concern.
LOWSPOT_INLINE void find_forces(const FaceRow& row, const StepNumbers& numbers, int from, int count,
                                Between& between) {
  const double dt = numbers.dt, cap = numbers.celerity_cap, floor_factor = numbers.floor_factor;
  const double own = 1.0 - numbers.neighbour_weight, others = 0.5 * numbers.neighbour_weight;
  constexpr double fastest = froude_limit * froude_limit * gravity;
  const double *q = row.q + from, *q_before = row.q_before + from, *q_after = row.q_after + from;
  const double *t1 = row.t1 + from, *t2 = row.t2 + from, *t3 = row.t3 + from, *t4 = row.t4 + from;
  double* speed_squared = row.speed_squared + from;
#pragma GCC ivdep
  for (int k = 0; k < count; ++k) {
    const double h = between.h[k], y = between.inverse[k], slope = between.slope[k];
    const double y3 = y * y * y;
    const double y6 = y3 * y3; // h^-2
    const double y9 = y6 * y3; // h^-3
    const double transverse = 0.25 * ((t1[k] + t2[k]) + (t3[k] + t4[k]));
    const double own_square = q[k] * q[k];
    const double vector_square = own_square + smaller(transverse * transverse, 3.0 * own_square);
    const double speed = smaller(vector_square * y6, fastest * h);
    const double push = dt * larger(smaller(gravity * h, cap), floor_factor * speed);
    // Manning's slope per q^2, never so little that the Froude limit is passed.
    const double resistance = y9 * larger(between.roughness[k] * y, magnitude(slope) * (1.0 / fastest));
    const double x = own * q[k] + others * (q_before[k] + q_after[k]) - push * slope;
    between.transverse[k] = transverse;
    between.x[k] = h > dry_depth ? x : 0.0;
    between.b[k] = push * resistance;
    speed_squared[k] = speed;
  }
}

LOWSPOT_INLINE void solve(const FaceRow& row, int from, int count, int rounded, Between& between) {
  const double* q = row.q + from;
  double* q_new = row.q_new + from;
#pragma GCC ivdep
  for (int k = 0; k < rounded; ++k)
    friction_quadratic(magnitude(between.x[k]), between.b[k], between.transverse[k], q[k], between.half[k],
                       between.squared[k]);
    // `rounded` is never below `count`: the loop above has filled what this one reads.
#pragma GCC ivdep
  for (int k = 0; k < count; ++k) {
    // NOLINTNEXTLINE(clang-analyzer-core.CallAndMessage)
    q_new[k] = friction_root(between.x[k], between.half[k], between.squared[k]);
  }
}

} // namespace

LOWSPOT_VECTOR_CLONES
void face_row(const FaceRow& row, const StepNumbers& numbers) {
  Between between;
  for (int from = 0; from < row.count; from += stretch) {
    const int count = row.count - from < stretch ? row.count - from : stretch;
    const int rounded = (count + 7) / 8 * 8; // whole vectors, but for what is stored at the end
    find_depths(row, numbers.inverse_cell, from, rounded, between);
    find_forces(row, numbers, from, rounded, between);
    solve(row, from, count, rounded, between);
  }
}

namespace {

// A hair less than everything, so that rounding cannot make the depth negative.
constexpr double nearly_all = 1.0 - 1e-14;

LOWSPOT_INLINE double outflow(double west, double east, double south, double north) {
  return (larger(east, 0.0) - smaller(west, 0.0)) + (larger(north, 0.0) - smaller(south, 0.0));
}

} // namespace

LOWSPOT_VECTOR_CLONES
bool overdrawn(const CellRow& row, const StepNumbers& numbers) {
  const double *q_x = row.q_x, *q_south = row.q_south, *q_north = row.q_north, *mobile = row.mobile;
  const double factor = numbers.dt * numbers.inverse_cell;
  std::int64_t some = 0;
  for (int i = 0; i < row.count; ++i) {
    const double out = factor * outflow(q_x[i], q_x[i + 1], q_south[i], q_north[i]);
    some |= out > mobile[i] * nearly_all ? 1 : 0;
  }
  return some != 0;
}

LOWSPOT_VECTOR_CLONES
void limit_row(const CellRow& row, const StepNumbers& numbers) {
  const double *q_x = row.q_x, *q_south = row.q_south, *q_north = row.q_north, *mobile = row.mobile;
  double* share = row.share;
  const double factor = numbers.dt * numbers.inverse_cell;
#pragma GCC ivdep
  for (int i = 0; i < row.count; ++i) {
    const double out = factor * outflow(q_x[i], q_x[i + 1], q_south[i], q_north[i]);
    const double able = mobile[i] * nearly_all;
    const double part = able / larger(out, 1e-300);
    share[i] = out > able ? part : 1.0;
  }
}

LOWSPOT_VECTOR_CLONES
void scale_row(double* q, const double* share_a, const double* share_b, int count) {
  double* value = q;
#pragma GCC ivdep
  for (int k = 0; k < count; ++k) value[k] = value[k] * (value[k] > 0 ? share_a[k] : share_b[k]);
}

LOWSPOT_VECTOR_CLONES
double update_row(const CellRow& row, const StepNumbers& numbers) {
  const double* q_x = row.q_x;
  const double* q_south = row.q_south;
  const double* q_north = row.q_north;
  const double* storage = row.storage;
  const double* bed = row.bed;
  const double* supply = row.supply;
  const double* sink = row.sink;
  double* depth = row.depth;
  double* level = row.level;
  double* taken = row.taken;
  double* mobile = row.mobile;
  const double dt = numbers.dt, factor = numbers.dt * numbers.inverse_cell;
  const int count = row.count;
#pragma GCC ivdep
  for (int i = 0; i < count; ++i) {
    const double inflow = (q_x[i] - q_x[i + 1]) + (q_south[i] - q_north[i]);
    const double offered = depth[i] + factor * inflow + supply[i] * dt;
    const double take = smaller(sink[i] * dt, offered);
    const double left = offered - take;
    const double h = larger(left - storage[i], 0.0);
    taken[i] += take;
    depth[i] = left;
    level[i] = bed[i] + h;
    mobile[i] = h;
  }
  return largest(mobile, count);
}

// Non-negative numbers are ordered like their bits, and a maximum of integers vectorises.
LOWSPOT_VECTOR_CLONES
double largest(const double* values, int count) {
  std::int64_t most = 0;
#pragma GCC ivdep
  for (int k = 0; k < count; ++k) {
    const std::int64_t bits = __builtin_bit_cast(std::int64_t, values[k]);
    most = bits > most ? bits : most;
  }
  return __builtin_bit_cast(double, most);
}

} // namespace lowspot::surface
