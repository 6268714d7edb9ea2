#include <lowspot/perched/multigrid.hpp>

#include <algorithm>

namespace lowspot::perched {
namespace {

constexpr double sweep_weight = 0.8;       // damps the short waves of a five-point operator best
constexpr double diffusion_halving = 0.35; // of what spreads, given up when cells are joined
constexpr int coarsest_sweeps = 8;         // on two by two cells at most
constexpr int dominated_sweeps = 2;        // where a sweep alone reduces the error by half

void add_face(double out, double back, double& coarse_out, double& coarse_back) {
  const double spread = std::min(out, back);
  coarse_out += out - diffusion_halving * spread;
  coarse_back += back - diffusion_halving * spread;
}

void join_cells(const Stencil& fine, Stencil& coarse) {
  for (Field* field :
       {&coarse.retained, &coarse.east_out, &coarse.east_back, &coarse.north_out, &coarse.north_back})
    std::fill(field->begin(), field->end(), 0.0);
  for (int j = 0; j < fine.frame.ny; ++j) {
    for (int i = 0; i < fine.frame.nx; ++i) {
      const std::ptrdiff_t k = fine.frame.index(i, j);
      const std::ptrdiff_t joined = coarse.frame.index(i / 2, j / 2);
      coarse.retained[joined] += fine.retained[k];
      if (i % 2 == 1)
        add_face(fine.east_out[k], fine.east_back[k], coarse.east_out[joined], coarse.east_back[joined]);
      if (j % 2 == 1)
        add_face(fine.north_out[k], fine.north_back[k], coarse.north_out[joined], coarse.north_back[joined]);
    }
  }
  complete(coarse);
}

void sum_joined(const Frame& fine, const Frame& coarse, const Field& from, Field& to) {
  std::fill(to.begin(), to.end(), 0.0);
  for (int j = 0; j < fine.ny; ++j) {
    const double* source = &from[fine.index(0, j)];
    double* target = &to[coarse.index(0, j / 2)];
    for (int i = 0; i + 1 < fine.nx; i += 2) target[i / 2] += source[i] + source[i + 1];
    if (fine.nx % 2 == 1) target[fine.nx / 2] += source[fine.nx - 1];
  }
}

void add_joined(const Frame& fine, const Frame& coarse, const Field& from, Field& to) {
  for (int j = 0; j < fine.ny; ++j) {
    const double* source = &from[coarse.index(0, j / 2)];
    double* target = &to[fine.index(0, j)];
    for (int i = 0; i + 1 < fine.nx; i += 2) {
      target[i] += source[i / 2];
      target[i + 1] += source[i / 2];
    }
    if (fine.nx % 2 == 1) target[fine.nx - 1] += source[fine.nx / 2];
  }
}

} // namespace

Multigrid::Multigrid(const Frame& frame) {
  Frame at = frame;
  while (true) {
    Level level;
    if (!levels_.empty()) level.stencil = make_stencil(at);
    level.b.assign(at.size(), 0.0);
    level.x = level.spare = level.b;
    levels_.push_back(std::move(level));
    if (at.nx <= 2 && at.ny <= 2) break;
    at = make_frame((at.nx + 1) / 2, (at.ny + 1) / 2);
  }
}

void Multigrid::set(const Stencil& fine) {
  fine_ = &fine;
  for (used_ = 1; used_ < levels_.size() && !retention_dominates(stencil(used_ - 1)); ++used_)
    join_cells(stencil(used_ - 1), levels_[used_].stencil);
  last_sweeps_ = used_ < levels_.size() ? dominated_sweeps : coarsest_sweeps;
}

void Multigrid::apply(const Field& b, Field& x) {
  cycle(0, b, x);
}

void Multigrid::cycle(std::size_t level, const Field& b, Field& x) {
  const Stencil& here = stencil(level);
  Level& work = levels_[level];
  jacobi_start(here, sweep_weight, b, x);
  if (level + 1 == used_) {
    for (int sweep = 0; sweep < last_sweeps_; ++sweep) {
      jacobi_sweep(here, sweep_weight, b, x, work.spare);
      x.swap(work.spare);
    }
    return;
  }
  Level& next = levels_[level + 1];
  subtract_product(here, b, x, work.spare);
  sum_joined(here.frame, next.stencil.frame, work.spare, next.b);
  cycle(level + 1, next.b, next.x);
  add_joined(here.frame, next.stencil.frame, next.x, x);
  jacobi_sweep(here, sweep_weight, b, x, work.spare);
  x.swap(work.spare);
}

} // namespace lowspot::perched
