#include <lowspot/surface/step.hpp>

#include <algorithm>
#include <cmath>
#include <utility>

#include <lowspot/surface/edges.hpp>
#include <lowspot/surface/friction.hpp>

namespace lowspot::surface {
namespace {

constexpr double slowest_celerity = 0.1; // m/s: bounds the step where there is next to no water
constexpr double cap_over_kinematic = 1.5;

double squared(double value) {
  return value * value;
}

double cap_squared(const Options& options, const Workspace& work) {
  return std::max(squared(options.celerity_cap),
                  squared(cap_over_kinematic * 5.0 / 3.0) * work.fastest_squared);
}

double floor_factor(const Options& options) {
  return squared(options.celerity_floor * 5.0 / 3.0);
}

// The cells on the two sides of a row of faces: b from (i, j), a from (a_i, a_j).
void set_cells(FaceRow& row, const Grid& grid, int i, int j, int a_i, int a_j, const Workspace& work) {
  const std::size_t b = grid.index(i, j), a = grid.index(a_i, a_j);
  row.level_a = &work.level[a];
  row.level_b = &work.level[b];
  row.roughness_a = &work.roughness[a];
  row.roughness_b = &work.roughness[b];
  row.h_a = work.mobile(a_j) + a_i;
  row.h_b = work.mobile(j) + i;
}

void compute(FaceRow& row, int count, const StepNumbers& numbers, Workspace& work) {
  row.speed_squared = work.scratch.data();
  row.count = count;
  face_row(row, numbers);
  work.fastest_squared = std::max(work.fastest_squared, largest(work.scratch.data(), count));
}

// The west faces of a row of cells.
void x_faces(const Grid& grid, const StepNumbers& numbers, int j, const Tiles& tiles, Workspace& work,
             const Water& water) {
  for (const Span& span : tiles.moving_in(j)) {
    const int begin = std::max(span.begin, 1);
    if (begin >= span.end) continue;
    const std::size_t face = grid.x_face(begin, j);
    const std::size_t south = grid.y_face(begin, j), north = grid.y_face(begin, j + 1);
    FaceRow row;
    set_cells(row, grid, begin, j, begin - 1, j, work);
    row.h_behind_a = row.h_a - 1;
    row.h_behind_b = row.h_b + 1;
    row.sill = &work.sill_x[face];
    row.q = &water.q_x[face];
    row.q_before = row.q - 1;
    row.q_after = row.q + 1;
    row.t1 = &water.q_y[south] - 1;
    row.t2 = &water.q_y[south];
    row.t3 = &water.q_y[north] - 1;
    row.t4 = &water.q_y[north];
    row.q_new = &work.q_x_next[face];
    compute(row, span.end - begin, numbers, work);
  }
}

// The south faces of a row of cells.
void y_faces(const Grid& grid, const StepNumbers& numbers, int j, const Tiles& tiles, Workspace& work,
             const Water& water) {
  for (const Span& span : tiles.moving_in(j)) {
    const std::size_t face = grid.y_face(span.begin, j);
    const std::size_t south = grid.x_face(span.begin, j - 1), north = grid.x_face(span.begin, j);
    FaceRow row;
    set_cells(row, grid, span.begin, j, span.begin, j - 1, work);
    row.h_behind_a = work.mobile(std::max(j - 2, 0)) + span.begin;
    row.h_behind_b = work.mobile(std::min(j + 1, grid.ny - 1)) + span.begin;
    row.sill = &work.sill_y[face];
    row.q = &water.q_y[face];
    row.q_before = row.q - grid.nx;
    row.q_after = row.q + grid.nx;
    row.t1 = &water.q_x[south];
    row.t2 = row.t1 + 1;
    row.t3 = &water.q_x[north];
    row.t4 = row.t3 + 1;
    row.q_new = &work.q_y_next[face];
    compute(row, span.end - span.begin, numbers, work);
  }
}

// Nothing passes between a tile that moves and one that is skipped.
void close_borders(const Grid& grid, int j, const Tiles& tiles, Workspace& work) {
  for (const Span& span : tiles.moving_in(j)) {
    if (span.begin > 0) work.q_x_next[grid.x_face(span.begin, j)] = 0;
    if (j == 0 || j % Tiles::height != 0) continue;
    for (int i = span.begin; i < span.end; i += Tiles::width) {
      double* q = &work.q_y_next[grid.y_face(i, j)];
      if (!tiles.moves(i, j - 1)) std::fill(q, q + std::min(Tiles::width, span.end - i), 0.0);
    }
  }
}

void open_faces(const Grid& grid, int j, const Tiles& tiles, Workspace& work) {
  for (int k = work.outfall_rows[j]; k < work.outfall_rows[j + 1]; ++k) {
    const Outfall& outfall = work.outfalls[k];
    double& q = (outfall.along_x ? work.q_x_next : work.q_y_next)[outfall.face];
    q = 0;
    if (!tiles.moves(grid.column(outfall.cell), j)) continue;
    const EdgeFlow flow = edge_flow(outfall, work, grid.cell);
    q = outfall.direction * flow.discharge;
    work.fastest_squared = std::max(work.fastest_squared, squared(flow.speed));
  }
}

CellRow cell_row(const Grid& grid, int j, const Span& span, Workspace& work, const Water& water) {
  const std::size_t cell = grid.index(span.begin, j);
  CellRow row;
  row.q_x = &work.q_x_next[grid.x_face(span.begin, j)];
  row.q_south = &work.q_y_next[grid.y_face(span.begin, j)];
  row.q_north = &work.q_y_next[grid.y_face(span.begin, j + 1)];
  row.storage = &work.storage[cell];
  row.bed = &work.bed[cell];
  row.supply = &work.supply[cell];
  row.sink = &work.sink[cell];
  row.depth = &water.depth[cell];
  row.level = &work.level[cell];
  row.taken = &water.taken[cell];
  row.share = work.share(cell);
  row.mobile = work.mobile(j) + span.begin;
  row.count = span.end - span.begin;
  return row;
}

void limit(const Grid& grid, const StepNumbers& numbers, int j, const Tiles& tiles, Workspace& work,
           const Water& water) {
  if (work.limited[j]) std::fill(work.share(grid.index(0, j)), work.share(grid.index(0, j)) + grid.nx, 1.0);
  work.limited[j] = 0;
  for (const Span& span : tiles.moving_in(j)) {
    const CellRow row = cell_row(grid, j, span, work, water);
    if (!overdrawn(row, numbers)) continue;
    limit_row(row, numbers);
    work.limited[j] = 1;
  }
}

// Faces of a row and those to the north of it; the ones to the south were scaled with the row before.
void scale(const Grid& grid, int j, const Tiles& tiles, Workspace& work) {
  const bool above = j + 1 < grid.ny && work.limited[j + 1];
  const auto scale_north = [&](const Span& span) {
    const std::size_t cell = grid.index(span.begin, j);
    scale_row(&work.q_y_next[grid.y_face(span.begin, j + 1)], work.share(cell), work.share(cell) + grid.nx,
              span.end - span.begin);
  };
  for (const Span& span : tiles.moving_in(j)) {
    const std::size_t cell = grid.index(span.begin, j);
    if (work.limited[j])
      scale_row(&work.q_x_next[grid.x_face(span.begin, j)], work.share(cell) - 1, work.share(cell),
                span.end - span.begin + 1);
    if (work.limited[j] || above) scale_north(span);
    if (j == 0 && work.limited[0]) // open faces on the south edge
      scale_row(&work.q_y_next[grid.y_face(span.begin, 0)], work.share(cell) - grid.nx, work.share(cell),
                span.end - span.begin);
  }
}

void update(const Grid& grid, const StepNumbers& numbers, int j, const Tiles& tiles, Workspace& work,
            const Water& water) {
  for (const Span& span : tiles.changing_in(j))
    work.deepest = std::max(work.deepest, update_row(cell_row(grid, j, span, work, water), numbers));
  work.pad_mobile(j);
}

// Water that left is booked, and kept off the inactive cells outside.
void book_crossings(const Terrain& terrain, double dt, Workspace& work, const Water& water) {
  const double width = terrain.grid.cell;
  for (std::size_t k = 0; k < work.outfalls.size(); ++k) {
    const Outfall& outfall = work.outfalls[k];
    const double q = (outfall.along_x ? work.q_x_next : work.q_y_next)[outfall.face];
    water.left[work.outfall_order[k]] += outfall.direction * q * dt * width;
    if (outfall.beyond < 0) continue;
    water.depth[outfall.beyond] = 0;
    work.set_mobile(outfall.beyond, 0.0);
  }
  for (std::size_t k = 0; k < terrain.lines.size(); ++k) {
    const FaceSet& line = terrain.lines[k];
    double q = 0;
    for (std::size_t f = 0; f < line.x_faces.size(); ++f)
      q += line.x_signs[f] * work.q_x_next[line.x_faces[f]];
    for (std::size_t f = 0; f < line.y_faces.size(); ++f)
      q += line.y_signs[f] * work.q_y_next[line.y_faces[f]];
    water.crossed[k] += q * dt * width;
  }
}

} // namespace

double stable_step(const Terrain& terrain, const Options& options, const Workspace& work) {
  const double waves = std::min(gravity * work.deepest, cap_squared(options, work));
  const double celerity =
      std::max({waves, floor_factor(options) * work.fastest_squared, squared(slowest_celerity)});
  // In two dimensions the shortest wave needs c dt / dx < sqrt((1 - w) / 2) with the neighbour weight w.
  const double stable = 0.95 * std::sqrt(0.5 * (1.0 - options.neighbour_weight));
  return std::min(options.courant, stable) * terrain.grid.cell / std::sqrt(celerity);
}

void hydraulic_step(const Terrain& terrain, const Options& options, double dt, const Tiles& tiles,
                    Workspace& work, Water water) {
  const Grid& grid = terrain.grid;
  const StepNumbers numbers{dt, 1.0 / grid.cell, cap_squared(options, work), floor_factor(options),
                            options.neighbour_weight};
  work.fastest_squared = 0;
  work.deepest = 0;
  // Row j of faces; then what depends on the faces of rows j - 1 and j; then what depends on limits around
  // it.
  for (int j = 0; j < grid.ny + 2; ++j) {
    if (j < grid.ny) {
      x_faces(grid, numbers, j, tiles, work, water);
      if (j > 0) y_faces(grid, numbers, j, tiles, work, water);
      close_borders(grid, j, tiles, work);
    }
    if (j >= 1 && j <= grid.ny) {
      open_faces(grid, j - 1, tiles, work);
      limit(grid, numbers, j - 1, tiles, work, water);
    }
    if (j >= 2) {
      scale(grid, j - 2, tiles, work);
      update(grid, numbers, j - 2, tiles, work, water);
    }
  }
  book_crossings(terrain, dt, work, water);
  std::swap(water.q_x, work.q_x_next);
  std::swap(water.q_y, work.q_y_next);
}

void refresh_roughness(const Terrain& terrain, const Tiles& tiles, Workspace& work) {
  for (int j = 0; j < terrain.grid.ny; ++j) {
    if (!work.row_grows[j]) continue;
    const double* h = work.mobile(j);
    const std::size_t row = terrain.grid.index(0, j);
    for (const Span& span : tiles.moving_in(j))
      for (int i = span.begin; i < span.end; ++i)
        work.roughness[row + i] = roughness_at(h[i], work.roughness_thin[row + i], work.log_ratio[row + i],
                                               work.vegetation[row + i]);
  }
}

} // namespace lowspot::surface
