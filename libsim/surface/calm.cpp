#include <lowspot/surface/calm.hpp>

#include <algorithm>
#include <cmath>

#include <lowspot/surface/edges.hpp>
#include <lowspot/surface/friction.hpp>

namespace lowspot::surface {
namespace {

constexpr double pool_discharge = 2e-4; // m2/s: what sinks may draw across a pool
constexpr double part_tolerance = 1e-6; // m: instead of level_tolerance in a part of a yard
constexpr double pool_step = 1e-3;      // m: neighbours in one pool differ by less

bool face_calm(double level_a, double level_b, double sill, double roughness, double q, double cell_size,
               Calm what) {
  if (in_one_pool(level_a, level_b, sill))
    return what == Calm::whole
               ? std::abs(level_a - level_b) <= level_tolerance && std::abs(q) <= pool_discharge
               : std::abs(level_a - level_b) <= part_tolerance && std::abs(q) <= film_discharge;
  return std::abs(q) <= film_discharge &&
         potential_squared(level_a, level_b, sill, roughness, cell_size) <= film_discharge * film_discharge;
}

// Roughness is that of the upper cell. Cells b from index `cell` on; `apart` is the distance in memory to
// cells a. The same for framed arrays.
bool row_calm(const Workspace& work, std::size_t cell, int apart, std::size_t framed,
              std::size_t framed_apart, const double* sill, const float* q, int count, double cell_size,
              Calm what) {
  const double *level_b = &work.level[cell], *level_a = level_b - apart;
  const float *roughness_b = &work.n_squared[framed], *roughness_a = roughness_b - framed_apart;
  for (int k = 0; k < count; ++k) {
    const double a = level_a[k], b = level_b[k];
    if (!(std::max(a, b) - sill[k] > dry_depth)) continue;
    if (!face_calm(a, b, sill[k], a > b ? roughness_a[k] : roughness_b[k], q[k], cell_size, what))
      return false;
  }
  return true;
}

} // namespace

double potential_squared(double level_a, double level_b, double sill, double roughness, double cell_size) {
  const double h = std::max(level_a, level_b) - sill;
  if (!(h > dry_depth)) return 0;
  const double h2 = h * h, y = inverse_cube_root(h);
  return h2 * h2 * (y * y) / roughness * std::abs(level_a - level_b) / cell_size; // h^(10/3) S / n^2
}

bool in_one_pool(double level_a, double level_b, double sill) {
  const double h = std::max(level_a, level_b) - sill;
  return h > dry_depth && std::abs(level_a - level_b) <= std::min(0.5 * h, pool_step);
}

bool is_calm(const Grid& grid, int i_begin, int i_end, int j_begin, int j_end, Calm what,
             const Workspace& work) {
  for (int j = j_begin; j < j_end; ++j) {
    for (int k = work.outfall_rows[j]; k < work.outfall_rows[j + 1]; ++k) {
      const int i = grid.column(work.outfalls[k].cell);
      if (i >= i_begin && i < i_end &&
          edge_flow(work.outfalls[k], work, grid.cell).discharge > film_discharge)
        return false;
    }
    const int begin = std::max(i_begin, 1), end = std::min(i_end + 1, grid.nx);
    const std::size_t at = work.frame.at(begin, j);
    if (!row_calm(work, grid.index(begin, j), 1, at, 1, &work.sill_x[grid.x_face(begin, j)], &work.q_x[at],
                  end - begin, grid.cell, what))
      return false;
  }
  for (int j = std::max(j_begin, 1); j < std::min(j_end + 1, grid.ny); ++j) {
    const std::size_t at = work.frame.at(i_begin, j);
    if (!row_calm(work, grid.index(i_begin, j), grid.nx, at, work.frame.pitch,
                  &work.sill_y[grid.y_face(i_begin, j)], &work.q_y[at], i_end - i_begin, grid.cell, what))
      return false;
  }
  return true;
}

} // namespace lowspot::surface
