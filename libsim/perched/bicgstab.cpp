#include <lowspot/perched/bicgstab.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/perched/simd.hpp>

namespace lowspot::perched {
namespace {

// y = x + factor * y
LOWSPOT_PERCHED_CLONES
void scale_and_add(std::ptrdiff_t size, const double* __restrict x, double factor, double* __restrict y) {
  for (std::ptrdiff_t k = 0; k < size; ++k) y[k] = x[k] + factor * y[k];
}

// y += factor * x
LOWSPOT_PERCHED_CLONES
void add_scaled(std::ptrdiff_t size, double factor, const double* __restrict x, double* __restrict y) {
  for (std::ptrdiff_t k = 0; k < size; ++k) y[k] += factor * x[k];
}

void add_scaled(double factor, const Field& x, Field& y) {
  add_scaled(static_cast<std::ptrdiff_t>(y.size()), factor, x.data(), y.data());
}

} // namespace

BicgstabWorkspace make_bicgstab_workspace(const Frame& frame) {
  BicgstabWorkspace work;
  for (Field* field : {&work.remainder, &work.shadow, &work.direction, &work.prepared, &work.image,
                       &work.half_prepared, &work.half_image})
    field->assign(frame.size(), 0.0);
  return work;
}

int bicgstab(const Stencil& a, Multigrid& preconditioner, const Field& b, Field& x, double reduction,
             int most, BicgstabWorkspace& w) {
  const auto size = static_cast<std::ptrdiff_t>(b.size());
  std::fill(x.begin(), x.end(), 0.0);
  w.remainder = b;
  w.shadow = b;
  w.direction = b;
  double rho = dot(b, b);
  const double enough = reduction * reduction * rho;
  if (!(rho > 0)) return 0;
  for (int iteration = 1; iteration <= most; ++iteration) {
    preconditioner.apply(w.direction, w.prepared);
    multiply(a, w.prepared, w.image);
    const double along = dot(w.shadow, w.image);
    if (along == 0) return iteration; // breakdown: the caller's outer iteration goes on from here
    const double alpha = rho / along;
    add_scaled(alpha, w.prepared, x);
    add_scaled(-alpha, w.image, w.remainder);
    if (dot(w.remainder, w.remainder) <= enough) return iteration;
    preconditioner.apply(w.remainder, w.half_prepared);
    multiply(a, w.half_prepared, w.half_image);
    const double square = dot(w.half_image, w.half_image);
    if (square == 0) return iteration;
    const double omega = dot(w.half_image, w.remainder) / square;
    add_scaled(omega, w.half_prepared, x);
    add_scaled(-omega, w.half_image, w.remainder);
    if (dot(w.remainder, w.remainder) <= enough) return iteration;
    const double next_rho = dot(w.shadow, w.remainder);
    if (next_rho == 0 || omega == 0) return iteration;
    const double beta = next_rho / rho * (alpha / omega);
    rho = next_rho;
    add_scaled(-omega, w.image, w.direction);
    scale_and_add(size, w.remainder.data(), beta, w.direction.data());
  }
  return most;
}

} // namespace lowspot::perched
