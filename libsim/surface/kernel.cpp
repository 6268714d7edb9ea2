#include <lowspot/surface/kernel.hpp>

#include <lowspot/surface/friction.hpp>

namespace lowspot::surface {

LOWSPOT_VECTOR_CLONES
void face_row(const FaceRow& row, const StepNumbers& numbers) {
  const double* level_a = row.level_a;
  const double* level_b = row.level_b;
  const double* sill = row.sill;
  const double* h_a = row.h_a;
  const double* h_b = row.h_b;
  const double* h_behind_a = row.h_behind_a;
  const double* h_behind_b = row.h_behind_b;
  const double* roughness_a = row.roughness_a;
  const double* roughness_b = row.roughness_b;
  const double* q = row.q;
  const double* q_before = row.q_before;
  const double* q_after = row.q_after;
  const double* t1 = row.t1;
  const double* t2 = row.t2;
  const double* t3 = row.t3;
  const double* t4 = row.t4;
  double* q_new = row.q_new;
  double* speed_squared = row.speed_squared;
  const double dt = numbers.dt, inverse_cell = numbers.inverse_cell;
  const double cap = numbers.celerity_cap, floor_factor = numbers.floor_factor;
  const double own = 1.0 - numbers.neighbour_weight, others = 0.5 * numbers.neighbour_weight;
  constexpr double fastest = froude_limit * froude_limit * gravity;
  const int count = row.count;
#pragma GCC ivdep
  for (int k = 0; k < count; ++k) {
    const double head = larger(level_a[k], level_b[k]) - sill[k];
    // What flows and how rough its way is, is that of the upper cell. Down a slope its depth is carried on to
    // the face by the smaller of the changes on either side (none at crests and hollows): second order on
    // planes.
    const bool from_a = level_a[k] > level_b[k];
    const double upper = from_a ? h_a[k] : h_b[k];
    const double roughness = from_a ? roughness_a[k] : roughness_b[k];
    const double ahead = from_a ? h_b[k] - h_a[k] : h_a[k] - h_b[k];
    const double behind = from_a ? h_a[k] - h_behind_a[k] : h_b[k] - h_behind_b[k];
    const double rise = larger(smaller(ahead, behind), 0.0) + smaller(larger(ahead, behind), 0.0);
    const double depth = head >= upper * (1 - 1e-9) ? head + 0.4 * rise : head;
    const double h = larger(depth, dry_depth);
    const double slope = (level_b[k] - level_a[k]) * inverse_cell;
    const double y = inverse_cube_root(h);
    const double y2 = y * y;
    const double y6 = y2 * y2 * y2; // h^-2
    const double y9 = y6 * y2 * y;  // h^-3
    const double transverse = 0.25 * ((t1[k] + t2[k]) + (t3[k] + t4[k]));
    const double old = q[k];
    // Any positive celerity leaves steady Manning flow and still water as they are. The cap lengthens the
    // step in pools; the floor, from the kinematic celerity, keeps fast thin flow stable (Whitham's
    // criterion).
    const double speed = smaller((old * old + transverse * transverse) * y6, fastest * h);
    const double celerity = larger(smaller(gravity * h, cap), floor_factor * speed);
    // Manning's slope per q^2, never so little that the Froude limit is passed.
    const double resistance = larger(roughness * (y9 * y), magnitude(slope) * y9 * (1.0 / fastest));
    const double push = celerity * dt;
    const double x = own * old + others * (q_before[k] + q_after[k]) - push * slope;
    const double answer = discharge_against_friction(magnitude(x), push * resistance, transverse, old);
    const double moving = x < 0 ? -answer : answer;
    q_new[k] = head > dry_depth ? moving : 0.0;
    speed_squared[k] = head > dry_depth ? speed : 0.0;
  }
}

LOWSPOT_VECTOR_CLONES
bool limit_row(const CellRow& row, const StepNumbers& numbers) {
  const double* q_x = row.q_x;
  const double* q_south = row.q_south;
  const double* q_north = row.q_north;
  const double* depth = row.depth;
  const double* storage = row.storage;
  double* share = row.share;
  const double factor = numbers.dt * numbers.inverse_cell;
  // A hair less than everything, so that rounding cannot make the depth negative.
  constexpr double nearly_all = 1.0 - 1e-14;
  const int count = row.count;
  std::int64_t limited = 0;
#pragma GCC ivdep
  for (int i = 0; i < count; ++i) {
    const double out_x = larger(q_x[i + 1], 0.0) - smaller(q_x[i], 0.0);
    const double out_y = larger(q_north[i], 0.0) - smaller(q_south[i], 0.0);
    const double out = factor * (out_x + out_y);
    const double mobile = larger(depth[i] - storage[i], 0.0) * nearly_all;
    const double part = mobile / larger(out, 1e-300);
    const double allowed = out > mobile ? part : 1.0;
    share[i] = allowed;
    limited |= __builtin_bit_cast(std::int64_t, allowed) ^ __builtin_bit_cast(std::int64_t, 1.0);
  }
  return limited != 0;
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
