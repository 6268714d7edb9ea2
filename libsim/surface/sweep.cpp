#include <lowspot/surface/sweep.hpp>

#include <algorithm>

#include <lowspot/surface/edges.hpp>
#include <lowspot/surface/undo.hpp>

namespace lowspot::surface {
namespace {

// The cells on the two sides of a row of faces: b from (i, j), a from (a_i, a_j).
void set_cells(FaceRow& row, const Grid& grid, int i, int j, int a_i, int a_j, const Workspace& work) {
  const std::size_t b = work.frame.at(i, j), a = work.frame.at(a_i, a_j);
  row.level_a = &work.level[grid.index(a_i, a_j)];
  row.level_b = &work.level[grid.index(i, j)];
  row.roughness_a = &work.n_squared[a];
  row.roughness_b = &work.n_squared[b];
  row.softening_a = &work.softening[a];
  row.softening_b = &work.softening[b];
  row.change_a = &work.change[a];
  row.change_b = &work.change[b];
  row.h_a = &work.mobile[a];
  row.h_b = &work.mobile[b];
}

void compute(FaceRow& row, int count, const Sweep& sweep, const FaceNumbers& numbers, double& most) {
  row.count = count;
  const FaceAnswer answer = sweep.age > 0 ? quick_face_row(row, numbers) : face_row(row, numbers);
  most = std::max(most, static_cast<double>(answer.celerity_squared));
  sweep.most->wet += answer.wet;
  sweep.most->rushing += answer.rushing;
}

// The west faces of a row of cells. The one on the limit of the grid lets nothing pass.
void x_faces(const Sweep& sweep, int j) {
  Workspace& work = sweep.work;
  const Pass& pass = sweep.pass;
  for (const Span& span : sweep.tiles.moving_in(j)) {
    const std::size_t south = work.frame.at(span.begin, j), north = south + work.frame.pitch;
    FaceRow row;
    set_cells(row, sweep.grid, span.begin, j, span.begin - 1, j, work);
    row.h_behind_a = row.h_a - 1;
    row.h_behind_b = row.h_b + 1;
    row.rise_a = &work.rise_x_before[south];
    row.rise_b = &work.rise_x_after[south];
    row.walls = work.walls_x[j] != 0;
    row.q = &(*pass.q_x)[south];
    row.t1 = &(*pass.q_y)[south] - 1;
    row.t2 = &(*pass.q_y)[south];
    row.t3 = &(*pass.q_y)[north] - 1;
    row.t4 = &(*pass.q_y)[north];
    row.q_new = &(*pass.q_x_next)[south];
    if (sweep.keeps || sweep.age > 0) row.kept = work.kept_x.at(south);
    compute(row, span.end - span.begin, sweep, sweep.x_numbers, sweep.most->celerities.x);
  }
}

// The south faces of a row of cells.
void y_faces(const Sweep& sweep, int j) {
  Workspace& work = sweep.work;
  const Pass& pass = sweep.pass;
  const std::size_t pitch = work.frame.pitch;
  for (const Span& span : sweep.tiles.moving_in(j)) {
    const std::size_t north = work.frame.at(span.begin, j), south = north - pitch;
    FaceRow row;
    set_cells(row, sweep.grid, span.begin, j, span.begin, j - 1, work);
    row.h_behind_a = &work.mobile[j > 1 ? south - pitch : south];
    row.h_behind_b = &work.mobile[j + 1 < sweep.grid.ny ? north + pitch : north];
    row.rise_a = &work.rise_y_before[north];
    row.rise_b = &work.rise_y_after[north];
    row.walls = work.walls_y[j] != 0;
    row.q = &(*pass.q_y)[north];
    row.t1 = &(*pass.q_x)[south];
    row.t2 = &(*pass.q_x)[north];
    row.t3 = row.t1 + 1;
    row.t4 = row.t2 + 1;
    row.q_new = &(*pass.q_y_next)[north];
    if (sweep.keeps || sweep.age > 0) row.kept = work.kept_y.at(north);
    compute(row, span.end - span.begin, sweep, sweep.y_numbers, sweep.most->celerities.y);
  }
}

// Nothing passes between a tile that moves and one that is skipped.
void close_borders(const Sweep& sweep, int j) {
  const Workspace& work = sweep.work;
  const Pass& pass = sweep.pass;
  const Tiles& tiles = sweep.tiles;
  for (const Span& span : tiles.moving_in(j)) {
    if (span.begin > 0) (*pass.q_x_next)[work.frame.at(span.begin, j)] = 0;
    if (j == 0 || j % Tiles::height != 0) continue;
    for (int i = span.begin; i < span.end; i += Tiles::width) {
      float* q = &(*pass.q_y_next)[work.frame.at(i, j)];
      if (!tiles.moves(i, j - 1)) std::fill(q, q + std::min(Tiles::width, span.end - i), 0.0f);
    }
  }
}

void open_faces(const Sweep& sweep, int j) {
  const Workspace& work = sweep.work;
  const Pass& pass = sweep.pass;
  for (int k = work.outfall_rows[j]; k < work.outfall_rows[j + 1]; ++k) {
    const Outfall& outfall = work.outfalls[k];
    float& q = (outfall.along_x ? *pass.q_x_next : *pass.q_y_next)[outfall.face];
    q = 0;
    if (!sweep.tiles.moves(sweep.grid.column(outfall.cell), j)) continue;
    const EdgeFlow flow = edge_flow(outfall, work, sweep.grid.cell);
    q = static_cast<float>(outfall.direction * flow.discharge);
    double& most = outfall.along_x ? sweep.most->celerities.x : sweep.most->celerities.y;
    most = std::max(most, sweep.numbers.floor_factor * flow.speed * flow.speed);
  }
}

CellRow cell_row(const Sweep& sweep, int j, const Span& span) {
  Workspace& work = sweep.work;
  const Water& water = sweep.water;
  const Pass& pass = sweep.pass;
  const std::size_t cell = sweep.grid.index(span.begin, j), at = work.frame.at(span.begin, j);
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
  row.change = &work.change[at];
  row.count = span.end - span.begin;
  return row;
}

// The same with its water kept for `undo`, if there is one, as it is read.
CellRow kept_row(const Sweep& sweep, int j, const Span& span, Undo* undo) {
  CellRow row = cell_row(sweep, j, span);
  if (undo) undo->keep(row, sweep.grid.index(span.begin, j));
  return row;
}

void limit(const Sweep& sweep, int j) {
  Workspace& work = sweep.work;
  if (work.limited[j]) std::fill_n(&work.shares[work.frame.at(0, j)], sweep.grid.nx, 1.0f);
  work.limited[j] = 0;
  for (const Span& span : sweep.tiles.moving_in(j)) {
    const CellRow row = cell_row(sweep, j, span);
    if (!overdrawn(row, sweep.numbers)) continue;
    limit_row(row, sweep.numbers);
    work.limited[j] = 1;
  }
}

// What crosses the faces of a row, or those north of it, is booked once it is final; by face, since steps may
// be booked in any order from one row to another.
void book(const Sweep& sweep, int j) {
  Workspace& work = sweep.work;
  const Water& water = sweep.water;
  const Pass& pass = sweep.pass;
  const double dt = sweep.numbers.dt, width = sweep.grid.cell;
  for (int k = work.outfall_rows[j]; k < work.outfall_rows[j + 1]; ++k) {
    const Outfall& outfall = work.outfalls[k];
    const double q = (outfall.along_x ? *pass.q_x_next : *pass.q_y_next)[outfall.face];
    water.left[work.outfall_order[k]] += outfall.direction * q * dt * width;
  }
  for (int k = work.crossing_rows[j]; k < work.crossing_rows[j + 1]; ++k) {
    const Crossing& crossing = work.crossings[k];
    const double q = (crossing.along_x ? *pass.q_x_next : *pass.q_y_next)[crossing.face];
    water.crossed[k] += crossing.weight * q * dt * width;
  }
}

// Faces of a row that are final; those on the north limit with the last row. The first step of a group begins
// from the sums before it, which stay as they are.
void sum_up(const Sweep& sweep, int j, PassedWater& passed) {
  const Workspace& work = sweep.work;
  const Pass& pass = sweep.pass;
  const std::size_t pitch = work.frame.pitch;
  const double dt = sweep.numbers.dt;
  const bool last_row = j + 1 == sweep.grid.ny;
  const Aligned<double>&x = sweep.first ? passed.x : passed.x_next,
        &y = sweep.first ? passed.y : passed.y_next;
  int done = 0;                          // columns
  const auto copy_to = [&](int column) { // what no step of the group changes
    const std::size_t at = work.frame.at(done, j);
    std::copy_n(&passed.x[at], column - done, &passed.x_next[at]);
    for (const std::size_t row : {at, at + pitch})
      if (row == at || last_row) std::copy_n(&passed.y[row], column - done, &passed.y_next[row]);
  };
  for (const Span& span : sweep.tiles.moving_in(j)) {
    if (sweep.first) copy_to(span.begin);
    const std::size_t at = work.frame.at(span.begin, j), north = at + pitch;
    const int count = span.end - span.begin;
    const bool last = span.end == sweep.grid.nx; // its east face has no cell of its own
    add_row(&x[at], &(*pass.q_x_next)[at], dt, &passed.x_next[at], count + (last ? 1 : 0));
    add_row(&y[at], &(*pass.q_y_next)[at], dt, &passed.y_next[at], count);
    if (last_row) add_row(&y[north], &(*pass.q_y_next)[north], dt, &passed.y_next[north], count);
    done = span.end;
  }
  if (sweep.first && done < sweep.grid.nx) copy_to(sweep.grid.nx + 1);
}

// Sinks and supplies alone act on still tiles, for as long as the still time.
bool update_still(const Sweep& sweep, int j) {
  Workspace& work = sweep.work;
  const std::vector<Span>& spans = sweep.tiles.still_in(j);
  if (sweep.still_time == 0) return !spans.empty() && work.row_bent[j] != 0;
  StepNumbers numbers = sweep.numbers;
  numbers.dt = sweep.still_time;
  bool bent = false;
  for (const Span& span : spans) {
    const CellRow row = kept_row(sweep, j, span, sweep.undo_still);
    const float deepest = update_row(row, numbers);
    std::fill_n(row.change, row.count, 0.0f); // of no single step
    sweep.most->deepest = std::max(sweep.most->deepest, static_cast<double>(deepest));
    bent |= bend_vegetation(work, j, span.begin, span.end, deepest);
  }
  return bent;
}

// What went over an open face is taken off the inactive cell outside.
void update(const Sweep& sweep, int j) {
  Workspace& work = sweep.work;
  bool bent = update_still(sweep, j);
  for (const Span& span : sweep.tiles.moving_in(j)) {
    const float deepest = update_row(kept_row(sweep, j, span, sweep.undo), sweep.numbers);
    sweep.most->deepest = std::max(sweep.most->deepest, static_cast<double>(deepest));
    bent |= bend_vegetation(work, j, span.begin, span.end, deepest);
  }
  work.row_bent[j] = bent;
  for (int k = work.beyond_rows[j]; k < work.beyond_rows[j + 1]; ++k) {
    const int cell = work.beyond[k];
    const std::size_t at = work.frame.at(sweep.grid.column(cell), j);
    sweep.water.depth[cell] = 0;
    work.level[cell] = work.bed[cell];
    work.mobile[at] = work.change[at] = 0;
  }
  work.pad_mobile(j);
}

} // namespace

bool bend_vegetation(Workspace& work, int row, int begin, int end, float deepest) {
  const bool bent = deepest * work.row_bend[row] > 1.0f / 3;
  if (!bent && !work.row_bent[row]) return false; // as it was: upright
  const std::size_t at = work.frame.at(begin, row);
  roughness_row({&work.mobile[at], &work.n_squared_thin[at], &work.n_squared_log_ratio[at], &work.bend[at],
                 &work.n_squared[at], &work.softening[at], end - begin});
  return bent;
}

void find_discharges(const Sweep& sweep, int j) {
  x_faces(sweep, j);
  if (j > 0) y_faces(sweep, j);
  close_borders(sweep, j);
}

void find_shares(const Sweep& sweep, int j) {
  open_faces(sweep, j);
  limit(sweep, j);
}

// Faces of a row and those to the north of it; the ones to the south were scaled with the row before.
void limit_discharges(const Sweep& sweep, int j) {
  const Workspace& work = sweep.work;
  const Pass& pass = sweep.pass;
  const bool above = j + 1 < sweep.grid.ny && work.limited[j + 1];
  const std::size_t pitch = work.frame.pitch;
  for (const Span& span : sweep.tiles.moving_in(j)) {
    const std::size_t at = work.frame.at(span.begin, j);
    const float* share = &work.shares[at];
    const int count = span.end - span.begin;
    if (work.limited[j]) scale_row(&(*pass.q_x_next)[at], share - 1, share, count + 1);
    if (work.limited[j] || above) scale_row(&(*pass.q_y_next)[at + pitch], share, share + pitch, count);
    if (j == 0 && work.limited[0]) // open faces on the south edge
      scale_row(&(*pass.q_y_next)[at], share - pitch, share, count);
  }
}

void balance_volumes(const Sweep& sweep, int j) {
  book(sweep, j);
  if (sweep.water.passed) sum_up(sweep, j, *sweep.water.passed);
  update(sweep, j);
}

void advance_row(const Sweep& sweep, int j, int begin) {
  const int rows = sweep.grid.ny, behind = j - 2;
  if (j < rows) find_discharges(sweep, j);
  if (j > begin && j <= rows) find_shares(sweep, j - 1);
  if (behind >= begin) limit_discharges(sweep, behind);
  if (behind > begin || (behind == 0 && begin == 0)) balance_volumes(sweep, behind);
}

void close_row(const Sweep& sweep, int j, int end) {
  if (j < end) find_discharges(sweep, j);
  if (j <= end) find_shares(sweep, j - 1);
  if (j < end + 2) limit_discharges(sweep, j - 2);
  balance_volumes(sweep, j - 2);
}

} // namespace lowspot::surface
