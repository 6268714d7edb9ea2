#include <lowspot/surface/kernel.hpp>

#include <lowspot/surface/frame.hpp>
#include <lowspot/surface/friction.hpp>

namespace lowspot::surface {
namespace {

// A hair less than everything, so that rounding in single precision cannot make the depth negative.
constexpr float nearly_all = 1.0f - 1e-6f;

template <class Number>
LOWSPOT_INLINE Number outflow(Number west, Number east, Number south, Number north) {
  return (larger(east, Number(0)) - smaller(west, Number(0))) +
         (larger(north, Number(0)) - smaller(south, Number(0)));
}

template <bool keeps>
LOWSPOT_INLINE float balance(const CellRow& row, const StepNumbers& numbers) {
  const float *q_x = row.q_x, *q_south = row.q_south, *q_north = row.q_north;
  const double *storage = row.storage, *bed = row.bed, *supply = row.supply, *sink = row.sink;
  double *depth = row.depth, *level = row.level, *taken = row.taken;
  double *depth_before = row.depth_before, *taken_before = row.taken_before;
  float *mobile = row.mobile, *change = row.change, *change_before = row.change_before;
  const double dt = numbers.dt, factor = numbers.dt * numbers.inverse_cell;
  const int count = row.count;
  std::int32_t most = 0;
#pragma GCC ivdep
  for (int i = 0; i < count; ++i) {
    const double west = q_x[i], east = q_x[i + 1], south = q_south[i], north = q_north[i];
    const double inflow = (west - east) + (south - north);
    const double held = depth[i], stored = storage[i], gone = taken[i];
    if constexpr (keeps) {
      depth_before[i] = held;
      taken_before[i] = gone;
      change_before[i] = change[i];
    }
    const double offered = held + factor * inflow + supply[i] * dt;
    const double take = smaller(sink[i] * dt, offered);
    const double left = offered - take;
    const double h = larger(left - stored, 0.0), h_before = larger(held - stored, 0.0);
    const float narrow = static_cast<float>(h);
    taken[i] = gone + take;
    depth[i] = left;
    change[i] = static_cast<float>(h - h_before);
    level[i] = bed[i] + h;
    mobile[i] = narrow;
    const std::int32_t bits = bits_of(narrow);
    most = bits > most ? bits : most;
  }
  return __builtin_bit_cast(float, most);
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
void add_row(const double* before, const float* q, double dt, double* sum, int count) {
#pragma GCC ivdep
  for (int k = 0; k < count; ++k) sum[k] = before[k] + static_cast<double>(q[k]) * dt;
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
RowContent content_of(const double* depth, const double* storage, const double* supply, int count,
                      double horizon) {
  std::int64_t any = 0, mobile = 0;
  for (int i = 0; i < count; ++i) {
    const double most = depth[i] + supply[i] * horizon;
    any |= most > 0 ? 1 : 0;
    mobile |= most - storage[i] > dry_depth ? 1 : 0;
  }
  return {any != 0, mobile != 0};
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
  float *n_squared = row.n_squared, *softening = row.softening;
#pragma GCC ivdep
  for (int i = 0; i < row.count; ++i) {
    const float h = mobile[i], ratio = log_ratio[i], inverse = bend[i];
    n_squared[i] = bent_roughness(h, thin[i], ratio, inverse);
    softening[i] = softening_at(h, ratio, inverse);
  }
}

LOWSPOT_VECTOR_CLONES
float update_row(const CellRow& row, const StepNumbers& numbers) {
  return row.depth_before ? balance<true>(row, numbers) : balance<false>(row, numbers);
}

} // namespace lowspot::surface
