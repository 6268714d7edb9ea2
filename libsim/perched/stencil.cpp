#include <lowspot/perched/stencil.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/perched/simd.hpp>

namespace lowspot::perched {
namespace {

// Raw pointers, so that the compiler sees plain arrays that do not overlap.
struct Points {
  const double *diagonal, *east_out, *east_back, *north_out, *north_back;
  std::ptrdiff_t stride;
};

Points points_of(const Stencil& s) {
  return {s.diagonal.data(),  s.east_out.data(),   s.east_back.data(),
          s.north_out.data(), s.north_back.data(), s.frame.stride};
}

inline double row(const Points& p, const double* x, std::ptrdiff_t k) {
  const double east_west = p.east_back[k] * x[k + 1] + p.east_out[k - 1] * x[k - 1];
  const double north_south = p.north_back[k] * x[k + p.stride] + p.north_out[k - p.stride] * x[k - p.stride];
  return p.diagonal[k] * x[k] - (east_west + north_south);
}

LOWSPOT_PERCHED_CLONES
void multiply_range(const Points p, std::ptrdiff_t first, std::ptrdiff_t last, const double* __restrict x,
                    double* __restrict product) {
  for (std::ptrdiff_t k = first; k < last; ++k) product[k] = row(p, x, k);
}

LOWSPOT_PERCHED_CLONES
void subtract_range(const Points p, std::ptrdiff_t first, std::ptrdiff_t last, const double* __restrict b,
                    const double* __restrict x, double* __restrict remainder) {
  for (std::ptrdiff_t k = first; k < last; ++k) remainder[k] = b[k] - row(p, x, k);
}

LOWSPOT_PERCHED_CLONES
void sweep_range(const Points p, std::ptrdiff_t first, std::ptrdiff_t last, double weight,
                 const double* __restrict inverse, const double* __restrict b,
                 const double* __restrict before, double* __restrict after) {
  for (std::ptrdiff_t k = first; k < last; ++k)
    after[k] = before[k] + weight * inverse[k] * (b[k] - row(p, before, k));
}

LOWSPOT_PERCHED_CLONES
void start_range(std::ptrdiff_t first, std::ptrdiff_t last, double weight, const double* __restrict inverse,
                 const double* __restrict b, double* __restrict x) {
  for (std::ptrdiff_t k = first; k < last; ++k) x[k] = weight * inverse[k] * b[k];
}

LOWSPOT_PERCHED_CLONES
double dot_range(std::ptrdiff_t size, const double* __restrict a, const double* __restrict b) {
  constexpr int lanes = 8;
  double sums[lanes] = {};
  const std::ptrdiff_t whole = size - size % lanes;
  for (std::ptrdiff_t k = 0; k < whole; k += lanes)
    for (int lane = 0; lane < lanes; ++lane) sums[lane] += a[k + lane] * b[k + lane];
  double sum = 0;
  for (std::ptrdiff_t k = whole; k < size; ++k) sum += a[k] * b[k];
  for (double part : sums) sum += part;
  return sum;
}

LOWSPOT_PERCHED_CLONES
void complete_range(const Points p, std::ptrdiff_t first, std::ptrdiff_t last,
                    const double* __restrict retained, double* __restrict diagonal,
                    double* __restrict inverse) {
  for (std::ptrdiff_t k = first; k < last; ++k) {
    const double out = p.east_out[k] + p.east_back[k - 1] + (p.north_out[k] + p.north_back[k - p.stride]);
    const double sum = retained[k] + out;
    diagonal[k] = sum;
    inverse[k] = sum > 0 ? 1 / sum : 0;
  }
}

// Largest of what is passed on less half of what is retained.
LOWSPOT_PERCHED_CLONES
double most_passed_on(std::ptrdiff_t first, std::ptrdiff_t last, const double* __restrict diagonal,
                      const double* __restrict retained) {
  double most = 0;
  for (std::ptrdiff_t k = first; k < last; ++k) {
    const double excess = diagonal[k] - 1.5 * retained[k];
    most = excess > most ? excess : most;
  }
  return most;
}

} // namespace

Stencil make_stencil(const Frame& frame) {
  Stencil stencil;
  stencil.frame = frame;
  for (Field* field : {&stencil.retained, &stencil.east_out, &stencil.east_back, &stencil.north_out,
                       &stencil.north_back, &stencil.diagonal, &stencil.inverse})
    field->assign(frame.size(), 0.0);
  return stencil;
}

void complete(Stencil& s) {
  complete_range(points_of(s), s.frame.first(), s.frame.last(), s.retained.data(), s.diagonal.data(),
                 s.inverse.data());
}

bool retention_dominates(const Stencil& s) {
  return most_passed_on(s.frame.first(), s.frame.last(), s.diagonal.data(), s.retained.data()) <= 0;
}

void multiply(const Stencil& s, const Field& x, Field& product) {
  multiply_range(points_of(s), s.frame.first(), s.frame.last(), x.data(), product.data());
}

void subtract_product(const Stencil& s, const Field& b, const Field& x, Field& remainder) {
  subtract_range(points_of(s), s.frame.first(), s.frame.last(), b.data(), x.data(), remainder.data());
}

void jacobi_sweep(const Stencil& s, double weight, const Field& b, const Field& before, Field& after) {
  sweep_range(points_of(s), s.frame.first(), s.frame.last(), weight, s.inverse.data(), b.data(),
              before.data(), after.data());
}

void jacobi_start(const Stencil& s, double weight, const Field& b, Field& x) {
  start_range(s.frame.first(), s.frame.last(), weight, s.inverse.data(), b.data(), x.data());
}

double dot(const Field& a, const Field& b) {
  return dot_range(static_cast<std::ptrdiff_t>(a.size()), a.data(), b.data());
}

double largest(const Field& a) {
  double most = 0, sum = 0;
  for (double value : a) {
    most = std::max(most, std::abs(value)); // passes over what is no number
    sum += value;
  }
  return std::isnan(sum) ? sum : most;
}

} // namespace lowspot::perched
