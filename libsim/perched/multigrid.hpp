// A cheap approximate inverse of the perched system: one V-cycle over grids of doubled cells.
#pragma once
#include <vector>

#include <lowspot/perched/stencil.hpp>

namespace lowspot::perched {

// Cells are joined two by two in each direction. A joined face keeps the sum of what slopes carry, and half
// the sum of what spreads by diffusion, since the distance between centres has doubled (Wesseling 1992,
// chapter 5).
class Multigrid {
public:
  // Levels for grids of this size; the coefficients come with set().
  explicit Multigrid(const Frame& frame);
  // Rebuilds the coarse grids. `fine` must be complete and outlive the next applications.
  void set(const Stencil& fine);
  // x = approximately the solution of A x = b.
  void apply(const Field& b, Field& x);

private:
  struct Level {
    Stencil stencil; // empty on the finest level, which is the caller's
    Field b, x, spare;
  };
  const Stencil& stencil(std::size_t level) const { return level == 0 ? *fine_ : levels_[level].stencil; }
  void cycle(std::size_t level, const Field& b, Field& x);

  const Stencil* fine_ = nullptr;
  std::size_t used_ = 1; // levels, from the finest
  int last_sweeps_ = 0;  // on the coarsest of them
  std::vector<Level> levels_;
};

} // namespace lowspot::perched
