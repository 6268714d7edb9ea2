#include <lowspot/surface/step.hpp>

#include <algorithm>
#include <cmath>
#include <utility>

#include <lowspot/surface/edges.hpp>
#include <lowspot/surface/friction.hpp>

namespace lowspot::surface {
namespace {

constexpr double slowest_celerity = 0.1; // m/s: bounds the step where there is next to no water

double squared(double value) {
  return value * value;
}

double floor_factor(const Options& options) {
  return squared(options.celerity_floor * 5.0 / 3.0);
}

// One of several steps that follow each other through the rows: from which discharges to which.
struct Pass {
  const Aligned<float>*q_x, *q_y;
  Aligned<float>*q_x_next, *q_y_next;
};

// The cells on the two sides of a row of faces: b from (i, j), a from (a_i, a_j).
void set_cells(FaceRow& row, const Grid& grid, int i, int j, int a_i, int a_j, const Workspace& work) {
  const std::size_t b = work.frame.at(i, j), a = work.frame.at(a_i, a_j);
  row.level_a = &work.level[grid.index(a_i, a_j)];
  row.level_b = &work.level[grid.index(i, j)];
  row.roughness_a = &work.n_squared[a];
  row.roughness_b = &work.n_squared[b];
  row.h_a = &work.mobile[a];
  row.h_b = &work.mobile[b];
}

void compute(FaceRow& row, int count, const StepNumbers& numbers, Workspace& work) {
  row.count = count;
  work.celerity_squared = std::max(work.celerity_squared, static_cast<double>(face_row(row, numbers)));
}

// The west faces of a row of cells. The one on the limit of the grid lets nothing pass.
void x_faces(const Grid& grid, const StepNumbers& numbers, int j, const Tiles& tiles, Workspace& work,
             const Pass& pass) {
  for (const Span& span : tiles.moving_in(j)) {
    const std::size_t south = work.frame.at(span.begin, j), north = south + work.frame.pitch;
    FaceRow row;
    set_cells(row, grid, span.begin, j, span.begin - 1, j, work);
    row.h_behind_a = row.h_a - 1;
    row.h_behind_b = row.h_b + 1;
    row.rise_a = &work.rise_x_before[south];
    row.rise_b = &work.rise_x_after[south];
    row.q = &(*pass.q_x)[south];
    row.q_before = row.q - 1;
    row.q_after = row.q + 1;
    row.t1 = &(*pass.q_y)[south] - 1;
    row.t2 = &(*pass.q_y)[south];
    row.t3 = &(*pass.q_y)[north] - 1;
    row.t4 = &(*pass.q_y)[north];
    row.q_new = &(*pass.q_x_next)[south];
    compute(row, span.end - span.begin, numbers, work);
  }
}

// The south faces of a row of cells.
void y_faces(const Grid& grid, const StepNumbers& numbers, int j, const Tiles& tiles, Workspace& work,
             const Pass& pass) {
  const std::size_t pitch = work.frame.pitch;
  for (const Span& span : tiles.moving_in(j)) {
    const std::size_t north = work.frame.at(span.begin, j), south = north - pitch;
    FaceRow row;
    set_cells(row, grid, span.begin, j, span.begin, j - 1, work);
    row.h_behind_a = &work.mobile[j > 1 ? south - pitch : south];
    row.h_behind_b = &work.mobile[j + 1 < grid.ny ? north + pitch : north];
    row.rise_a = &work.rise_y_before[north];
    row.rise_b = &work.rise_y_after[north];
    row.q = &(*pass.q_y)[north];
    row.q_before = row.q - pitch;
    row.q_after = row.q + pitch;
    row.t1 = &(*pass.q_x)[south];
    row.t2 = &(*pass.q_x)[north];
    row.t3 = row.t1 + 1;
    row.t4 = row.t2 + 1;
    row.q_new = &(*pass.q_y_next)[north];
    compute(row, span.end - span.begin, numbers, work);
  }
}

// Nothing passes between a tile that moves and one that is skipped.
void close_borders(int j, const Tiles& tiles, const Workspace& work, const Pass& pass) {
  for (const Span& span : tiles.moving_in(j)) {
    if (span.begin > 0) (*pass.q_x_next)[work.frame.at(span.begin, j)] = 0;
    if (j == 0 || j % Tiles::height != 0) continue;
    for (int i = span.begin; i < span.end; i += Tiles::width) {
      float* q = &(*pass.q_y_next)[work.frame.at(i, j)];
      if (!tiles.moves(i, j - 1)) std::fill(q, q + std::min(Tiles::width, span.end - i), 0.0f);
    }
  }
}

void open_faces(const Grid& grid, const StepNumbers& numbers, int j, const Tiles& tiles, Workspace& work,
                const Pass& pass) {
  for (int k = work.outfall_rows[j]; k < work.outfall_rows[j + 1]; ++k) {
    const Outfall& outfall = work.outfalls[k];
    float& q = (outfall.along_x ? *pass.q_x_next : *pass.q_y_next)[outfall.face];
    q = 0;
    if (!tiles.moves(grid.column(outfall.cell), j)) continue;
    const EdgeFlow flow = edge_flow(outfall, work, grid.cell);
    q = static_cast<float>(outfall.direction * flow.discharge);
    work.celerity_squared = std::max(work.celerity_squared, numbers.floor_factor * squared(flow.speed));
  }
}

CellRow cell_row(const Grid& grid, int j, const Span& span, Workspace& work, const Water& water,
                 const Pass& pass) {
  const std::size_t cell = grid.index(span.begin, j), at = work.frame.at(span.begin, j);
  CellRow row;
  row.q_x = &(*pass.q_x_next)[at];
  row.q_south = &(*pass.q_y_next)[at];
  row.q_north = &(*pass.q_y_next)[at + work.frame.pitch];
  row.storage = &work.storage[cell];
  row.bed = &work.bed[cell];
  row.supply = &work.supply[cell];
  row.sink = &work.sink[cell];
  row.depth = &water.depth[cell];
  row.level = &work.level[cell];
  row.taken = &water.taken[cell];
  row.share = &work.shares[at];
  row.mobile = &work.mobile[at];
  row.count = span.end - span.begin;
  return row;
}

void limit(const Grid& grid, const StepNumbers& numbers, int j, const Tiles& tiles, Workspace& work,
           const Water& water, const Pass& pass) {
  if (work.limited[j]) std::fill_n(&work.shares[work.frame.at(0, j)], grid.nx, 1.0f);
  work.limited[j] = 0;
  for (const Span& span : tiles.moving_in(j)) {
    const CellRow row = cell_row(grid, j, span, work, water, pass);
    if (!overdrawn(row, numbers)) continue;
    limit_row(row, numbers);
    work.limited[j] = 1;
  }
}

// Faces of a row and those to the north of it; the ones to the south were scaled with the row before.
void scale(const Grid& grid, int j, const Tiles& tiles, const Workspace& work, const Pass& pass) {
  const bool above = j + 1 < grid.ny && work.limited[j + 1];
  const std::size_t pitch = work.frame.pitch;
  for (const Span& span : tiles.moving_in(j)) {
    const std::size_t at = work.frame.at(span.begin, j);
    const float* share = &work.shares[at];
    const int count = span.end - span.begin;
    if (work.limited[j]) scale_row(&(*pass.q_x_next)[at], share - 1, share, count + 1);
    if (work.limited[j] || above) scale_row(&(*pass.q_y_next)[at + pitch], share, share + pitch, count);
    if (j == 0 && work.limited[0]) // open faces on the south edge
      scale_row(&(*pass.q_y_next)[at], share - pitch, share, count);
  }
}

// What crosses the faces of a row, or those north of it, is booked once it is final; what went over an open
// face is taken off the inactive cell outside.
void book(const Grid& grid, double dt, int j, Workspace& work, const Water& water, const Pass& pass) {
  const double width = grid.cell;
  for (int k = work.outfall_rows[j]; k < work.outfall_rows[j + 1]; ++k) {
    const Outfall& outfall = work.outfalls[k];
    const double q = (outfall.along_x ? *pass.q_x_next : *pass.q_y_next)[outfall.face];
    water.left[work.outfall_order[k]] += outfall.direction * q * dt * width;
  }
  for (int k = work.crossing_rows[j]; k < work.crossing_rows[j + 1]; ++k) {
    const Crossing& crossing = work.crossings[k];
    const double q = (crossing.along_x ? *pass.q_x_next : *pass.q_y_next)[crossing.face];
    water.crossed[crossing.line] += crossing.sign * q * dt * width;
  }
}

// Faces of a row that are final; those on the north limit with the last row.
void sum_up(const Grid& grid, double dt, int j, const Tiles& tiles, const Workspace& work,
            PassedWater& passed, const Pass& pass) {
  const std::size_t pitch = work.frame.pitch;
  for (const Span& span : tiles.moving_in(j)) {
    const std::size_t at = work.frame.at(span.begin, j);
    const int count = span.end - span.begin;
    const bool last = span.end == grid.nx; // its east face has no cell of its own
    add_row(&passed.x[at], &(*pass.q_x_next)[at], dt, count + (last ? 1 : 0));
    add_row(&passed.y[at], &(*pass.q_y_next)[at], dt, count);
    if (j + 1 == grid.ny) add_row(&passed.y[at + pitch], &(*pass.q_y_next)[at + pitch], dt, count);
  }
}

void update(const Grid& grid, const StepNumbers& numbers, int j, const Tiles& tiles, Workspace& work,
            const Water& water, const Pass& pass) {
  for (const Span& span : tiles.changing_in(j))
    work.deepest = std::max(
        work.deepest, static_cast<double>(update_row(cell_row(grid, j, span, work, water, pass), numbers)));
  for (int k = work.beyond_rows[j]; k < work.beyond_rows[j + 1]; ++k) {
    water.depth[work.beyond[k]] = 0;
    work.set_mobile(work.beyond[k], 0.0);
  }
  work.pad_mobile(j);
}

// Row j of faces; then what depends on the faces of rows j - 1 and j; then what depends on limits around it.
void advance_row(const Grid& grid, const StepNumbers& numbers, int j, const Tiles& tiles, Workspace& work,
                 const Water& water, const Pass& pass) {
  if (j < grid.ny) {
    x_faces(grid, numbers, j, tiles, work, pass);
    if (j > 0) y_faces(grid, numbers, j, tiles, work, pass);
    close_borders(j, tiles, work, pass);
  }
  if (j >= 1 && j <= grid.ny) {
    open_faces(grid, numbers, j - 1, tiles, work, pass);
    limit(grid, numbers, j - 1, tiles, work, water, pass);
  }
  if (j >= 2) {
    scale(grid, j - 2, tiles, work, pass);
    book(grid, numbers.dt, j - 2, work, water, pass);
    if (water.passed) sum_up(grid, numbers.dt, j - 2, tiles, work, *water.passed, pass);
    update(grid, numbers, j - 2, tiles, work, water, pass);
  }
}

} // namespace

double stable_step(const Terrain& terrain, const Options& options, const Workspace& work) {
  // Still water, or rain that has just begun: what the deepest water would need below the cap.
  const double waves = std::min(gravity * work.deepest, squared(options.celerity_cap));
  const double celerity = std::max({waves, work.celerity_squared, squared(slowest_celerity)});
  // In two dimensions the shortest wave needs c dt / dx < sqrt((1 - w) / 2) with the neighbour weight w.
  const double stable = 0.95 * std::sqrt(0.5 * (1.0 - options.neighbour_weight));
  return std::min(options.courant, stable) * terrain.grid.cell / std::sqrt(celerity);
}

StepNumbers begin_steps(const Terrain& terrain, const Options& options, double dt, Workspace& work) {
  const StepNumbers numbers{dt, 1.0 / terrain.grid.cell, squared(options.celerity_cap), floor_factor(options),
                            options.neighbour_weight};
  work.celerity_squared = 0;
  work.deepest = 0;
  return numbers;
}

void hydraulic_steps(const Grid& grid, const StepNumbers& numbers, int count, const Tiles& tiles,
                     Workspace& work, Water water) {
  const Pass even{&work.q_x, &work.q_y, &work.q_x_next, &work.q_y_next};
  const Pass odd{&work.q_x_next, &work.q_y_next, &work.q_x, &work.q_y};
  // Row j - lag of the next step needs rows up to j - lag + 1 of this one, which are done with row j.
  constexpr int lag = 3;
  for (int front = 0; front < grid.ny + 2 + lag * (count - 1); ++front)
    for (int step = 0; step < count && front >= lag * step; ++step) {
      const int j = front - lag * step;
      if (j < grid.ny + 2) advance_row(grid, numbers, j, tiles, work, water, step % 2 == 0 ? even : odd);
    }
  if (count % 2 == 0) return;
  std::swap(work.q_x, work.q_x_next);
  std::swap(work.q_y, work.q_y_next);
}

void refresh_roughness(const Terrain& terrain, const Tiles& tiles, Workspace& work) {
  for (int j = 0; j < terrain.grid.ny; ++j) {
    if (!work.row_grows[j]) continue;
    const std::size_t row = terrain.grid.index(0, j), at = work.frame.at(0, j);
    for (const Span& span : tiles.moving_in(j))
      for (int i = span.begin; i < span.end; ++i)
        work.n_squared[at + i] =
            static_cast<float>(roughness_at(work.mobile[at + i], work.roughness_thin[row + i],
                                            work.log_ratio[row + i], work.vegetation[row + i]));
  }
}

} // namespace lowspot::surface
