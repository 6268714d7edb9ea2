#include <lowspot/surface/workspace.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include <lowspot/base/error.hpp>
#include <lowspot/surface/friction.hpp>

namespace lowspot::surface {
namespace {

void check(const Terrain& terrain) {
  const Grid& grid = terrain.grid;
  const std::size_t cells = grid.cells();
  if (cells == 0 || !(grid.cell > 0)) throw NumericsError("surface: the grid has no cells");
  for (const Field* field : {&terrain.elevation, &terrain.manning_n, &terrain.manning_n_deep,
                             &terrain.vegetation_height, &terrain.depression_storage})
    if (field->size() != cells) throw NumericsError("surface: a field does not fit the grid");
  if (terrain.active.size() != cells || terrain.crest_x.size() != grid.x_faces() ||
      terrain.crest_y.size() != grid.y_faces())
    throw NumericsError("surface: a field does not fit the grid");
  for (std::size_t c = 0; c < cells; ++c) {
    if (!terrain.active[c]) continue;
    if (!std::isfinite(terrain.elevation[c]) || !(terrain.manning_n[c] > 0) ||
        !(terrain.manning_n_deep[c] > 0) || !(terrain.depression_storage[c] >= 0) ||
        !(terrain.vegetation_height[c] >= 0))
      throw NumericsError("surface: cell " + std::to_string(c) +
                          " has an elevation or roughness that is no number");
  }
}

double lowest_active(const Terrain& terrain) {
  double lowest = std::numeric_limits<double>::infinity();
  for (std::size_t c = 0; c < terrain.elevation.size(); ++c)
    if (terrain.active[c]) lowest = std::min(lowest, terrain.elevation[c]);
  return std::isfinite(lowest) ? lowest : 0.0;
}

void prepare_faces(const Terrain& terrain, Workspace& work) {
  const Grid& grid = terrain.grid;
  work.sill_x.assign(grid.x_faces(), no_passage);
  work.sill_y.assign(grid.y_faces(), no_passage);
  for (auto* rise : {&work.rise_x_before, &work.rise_x_after, &work.rise_y_before, &work.rise_y_after})
    rise->assign(work.frame.size, static_cast<float>(no_passage));
  work.walls_x.assign(grid.ny, 0);
  work.walls_y.assign(grid.ny, 0);
  const auto above = [&](double sill, std::size_t cell) { return static_cast<float>(sill - work.bed[cell]); };
  for (int j = 0; j < grid.ny; ++j)
    for (int i = 0; i < grid.nx; ++i) {
      const std::size_t b = grid.index(i, j);
      if (!terrain.active[b]) continue;
      if (i > 0 && terrain.active[b - 1]) {
        const std::size_t face = grid.x_face(i, j);
        work.sill_x[face] = std::max({work.bed[b - 1], work.bed[b], terrain.crest_x[face] - work.datum});
        work.rise_x_before[work.frame.at(i, j)] = above(work.sill_x[face], b - 1);
        work.rise_x_after[work.frame.at(i, j)] = above(work.sill_x[face], b);
        if (work.sill_x[face] > std::max(work.bed[b - 1], work.bed[b])) work.walls_x[j] = 1;
      }
      if (j > 0 && terrain.active[b - grid.nx]) {
        const std::size_t face = grid.y_face(i, j);
        work.sill_y[face] =
            std::max({work.bed[b - grid.nx], work.bed[b], terrain.crest_y[face] - work.datum});
        work.rise_y_before[work.frame.at(i, j)] = above(work.sill_y[face], b - grid.nx);
        work.rise_y_after[work.frame.at(i, j)] = above(work.sill_y[face], b);
        if (work.sill_y[face] > std::max(work.bed[b - grid.nx], work.bed[b])) work.walls_y[j] = 1;
      }
    }
}

int cell_or_none(const Terrain& terrain, int i, int j) {
  const Grid& grid = terrain.grid;
  if (!grid.inside(i, j) || !terrain.active[grid.index(i, j)]) return -1;
  return static_cast<int>(grid.index(i, j));
}

// The cell beside an open one; the cell itself, which makes its slope nothing, where a wall is; -1 at a
// corner that is open both ways.
int cell_beside(const Terrain& terrain, int cell, int side) {
  const int step_i = side == 0 ? -1 : side == 1 ? 1 : 0;
  const int step_j = side == 2 ? -1 : side == 3 ? 1 : 0;
  const int beside =
      cell_or_none(terrain, terrain.grid.column(cell) + step_i, terrain.grid.row(cell) + step_j);
  if (beside >= 0) return beside;
  for (const OpenFace& open : terrain.open_faces)
    if (open.cell == cell && open.side == side) return -1;
  return cell;
}

// A fall between the last two cells that is so much steeper than that before them is a step, such as the edge
// of a slab or the bank of a basin, and says nothing of the ground outside [m/m].
constexpr double step_of_ground = 0.1, step_ratio = 3;

// The slope of the ground outward at an open edge [m/m].
double fall_outward(const Terrain& terrain, int cell, int inner, int second) {
  if (inner < 0) return 0;
  const double dx = terrain.grid.cell;
  const double fall = (terrain.elevation[inner] - terrain.elevation[cell]) / dx;
  if (second < 0) return fall;
  const double before = (terrain.elevation[second] - terrain.elevation[inner]) / dx;
  return std::abs(fall) > step_of_ground + step_ratio * std::abs(before) ? before : fall;
}

// The same to one side of a cell, from the cells on its other side.
double fall_along(const Terrain& terrain, int i, int j, int step_i, int step_j) {
  const int inner = cell_or_none(terrain, i - step_i, j - step_j);
  return fall_outward(terrain, static_cast<int>(terrain.grid.index(i, j)), inner,
                      inner < 0 ? -1 : cell_or_none(terrain, i - 2 * step_i, j - 2 * step_j));
}

// The ground goes on outward as it came. Where it rises, it stands higher at the edge, half a cell away: a
// rim to be overcome.
Outfall make_outfall(const Terrain& terrain, const Workspace& work, const OpenFace& open) {
  const Grid& grid = terrain.grid;
  const int i = grid.column(open.cell), j = grid.row(open.cell);
  const int step_i = open.side == 0 ? -1 : open.side == 1 ? 1 : 0;
  const int step_j = open.side == 2 ? -1 : open.side == 3 ? 1 : 0;
  Outfall out;
  out.cell = open.cell;
  out.along_x = step_i != 0;
  out.direction = step_i + step_j;
  out.face = work.frame.at(i + (step_i > 0), j + (step_j > 0));
  out.inner = cell_or_none(terrain, i - step_i, j - step_j);
  const int second = out.inner < 0 ? -1 : cell_or_none(terrain, i - 2 * step_i, j - 2 * step_j);
  out.left = cell_beside(terrain, open.cell, out.along_x ? 2 : 0);
  out.right = cell_beside(terrain, open.cell, out.along_x ? 3 : 1);
  if (grid.inside(i + step_i, j + step_j)) out.beyond = static_cast<int>(grid.index(i + step_i, j + step_j));
  out.face_fall = out.fall = fall_outward(terrain, out.cell, out.inner, second);
  if (open.out_x != 0 || open.out_y != 0) {
    out.fall = std::abs(open.out_x) * fall_along(terrain, i, j, open.out_x > 0 ? 1 : -1, 0) +
               std::abs(open.out_y) * fall_along(terrain, i, j, 0, open.out_y > 0 ? 1 : -1);
    constexpr double least_share = 1e-3; // no pit that only such a face drains is closed
    out.share = std::max(least_share, step_i * open.out_x + step_j * open.out_y);
  }
  const double rim = work.bed[out.cell] + 0.5 * grid.cell * std::max(-out.fall, 0.0);
  const double crest = (out.along_x ? terrain.crest_x[grid.x_face(i + (step_i > 0), j)]
                                    : terrain.crest_y[grid.y_face(i, j + (step_j > 0))]) -
                       work.datum;
  out.sill = std::max(rim, crest);
  out.wall = out.sill - rim;
  return out;
}

void prepare_outfalls(const Terrain& terrain, Workspace& work) {
  const Grid& grid = terrain.grid;
  std::vector<std::size_t> order(terrain.open_faces.size());
  for (std::size_t k = 0; k < order.size(); ++k) {
    order[k] = k;
    const OpenFace& open = terrain.open_faces[k];
    if (open.cell < 0 || static_cast<std::size_t>(open.cell) >= grid.cells() || open.side < 0 ||
        open.side > 3 || !terrain.active[open.cell])
      throw NumericsError("surface: open face " + std::to_string(k) + " is on no active cell");
  }
  // A face that is given twice would pass its water twice.
  std::vector<std::pair<int, int>> faces;
  for (const OpenFace& open : terrain.open_faces) faces.emplace_back(open.cell, open.side);
  std::sort(faces.begin(), faces.end());
  const auto twice = std::adjacent_find(faces.begin(), faces.end());
  if (twice != faces.end())
    throw NumericsError("surface: the open face on side " + std::to_string(twice->second) + " of cell " +
                        std::to_string(twice->first) + " is given twice");
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return grid.row(terrain.open_faces[a].cell) < grid.row(terrain.open_faces[b].cell);
  });
  work.outfall_rows.assign(grid.ny + 1, 0);
  for (const std::size_t k : order) {
    work.outfalls.push_back(make_outfall(terrain, work, terrain.open_faces[k]));
    const Outfall& out = work.outfalls.back();
    if (out.beyond >= 0 && terrain.active[out.beyond])
      throw NumericsError("surface: open face " + std::to_string(k) + " lies between two active cells");
    ++work.outfall_rows[grid.row(out.cell) + 1];
  }
  for (int j = 0; j < grid.ny; ++j) work.outfall_rows[j + 1] += work.outfall_rows[j];
  work.outfall_order = std::move(order);
}

// Sorts by row, keeping the order within one, and returns where each row begins.
template <class Item, class RowOf>
std::vector<int> sort_by_row(std::vector<Item>& items, int rows, RowOf row_of) {
  std::stable_sort(items.begin(), items.end(),
                   [&](const Item& a, const Item& b) { return row_of(a) < row_of(b); });
  std::vector<int> begins(rows + 1, 0);
  for (const Item& item : items) ++begins[row_of(item) + 1];
  for (int j = 0; j < rows; ++j) begins[j + 1] += begins[j];
  return begins;
}

void prepare_lines(const Terrain& terrain, Workspace& work) {
  const Grid& grid = terrain.grid;
  for (std::size_t k = 0; k < terrain.lines.size(); ++k) {
    const FaceSet& set = terrain.lines[k];
    const auto add = [&](int face, double weight, bool along_x) {
      const int width = along_x ? grid.nx + 1 : grid.nx;
      work.crossings.push_back(
          {static_cast<int>(k), work.frame.at(face % width, face / width), along_x, weight});
    };
    for (std::size_t f = 0; f < set.x_faces.size(); ++f) add(set.x_faces[f], set.x_weights[f], true);
    for (std::size_t f = 0; f < set.y_faces.size(); ++f) add(set.y_faces[f], set.y_weights[f], false);
  }
  work.crossing_rows = sort_by_row(work.crossings, grid.ny, [&](const Crossing& crossing) {
    return std::min(static_cast<int>(crossing.face / work.frame.pitch) - 1, grid.ny - 1);
  });
  for (const Outfall& outfall : work.outfalls)
    if (outfall.beyond >= 0) work.beyond.push_back(outfall.beyond);
  work.beyond_rows = sort_by_row(work.beyond, grid.ny, [&](int cell) { return grid.row(cell); });
}

} // namespace

Workspace::Workspace(const Terrain& terrain, const Options& options) {
  check(terrain);
  if (!(options.courant > 0 && options.courant <= 1) || !(options.celerity_cap > 0) ||
      !(options.celerity_floor >= 0) || !(options.foresight >= 0 && options.foresight < 1) ||
      options.full_every < 1)
    throw NumericsError("surface: an option is out of its range");
  const Grid& grid = terrain.grid;
  const std::size_t cells = grid.cells();
  datum = lowest_active(terrain);
  bed.assign(cells, 0.0);
  storage.assign(cells, 0.0);
  columns = grid.nx;
  rows = grid.ny;
  frame = Frame(grid);
  for (auto* values : {&n_squared, &n_squared_thin}) values->assign(frame.size, 1.0f);
  shares.assign(frame.size, 1.0f);
  for (auto* values : {&mobile, &change, &q_x, &q_y, &q_x_next, &q_y_next, &q_x_third, &q_y_third,
                       &n_squared_log_ratio, &bend, &softening})
    values->assign(frame.size, 0.0f);
  for (KeptNumbers* kept : {&kept_x, &kept_y})
    for (auto* values : {&kept->force, &kept->friction, &kept->transverse, &kept->follow, &kept->upper})
      values->assign(frame.size, 0.0f);
  roughness_thin.assign(cells, 1.0);
  log_ratio.assign(cells, 0.0);
  vegetation.assign(cells, 0.0);
  row_bend.assign(grid.ny, 0.0f);
  row_bent.assign(grid.ny, 0);
  for (std::size_t c = 0; c < cells; ++c) {
    if (!terrain.active[c]) continue;
    storage[c] = terrain.depression_storage[c];
    bed[c] = (terrain.elevation[c] - datum) + storage[c];
    roughness_thin[c] = terrain.manning_n[c] * terrain.manning_n[c];
    log_ratio[c] = 2 * std::log(terrain.manning_n_deep[c] / terrain.manning_n[c]);
    vegetation[c] = terrain.vegetation_height[c];
    n_squared[framed(c)] = n_squared_thin[framed(c)] = static_cast<float>(roughness_thin[c]);
    if (!(vegetation[c] > 0)) continue;
    n_squared_log_ratio[framed(c)] = static_cast<float>(log_ratio[c]);
    bend[framed(c)] = static_cast<float>(1 / (1.5 * vegetation[c]));
    float& most = row_bend[grid.row(static_cast<int>(c))];
    most = std::max(most, bend[framed(c)]);
  }
  level.assign(bed);
  prepare_faces(terrain, *this);
  prepare_outfalls(terrain, *this);
  prepare_lines(terrain, *this);
  supply.assign(cells, 0.0);
  sink.assign(cells, 0.0);
  limited.assign(grid.ny, 0);
}

void Workspace::set_mobile(std::size_t cell, double depth) {
  const std::size_t at = framed(cell);
  mobile[at] = static_cast<float>(depth);
  n_squared[at] = bent_roughness(mobile[at], n_squared_thin[at], n_squared_log_ratio[at], bend[at]);
  softening[at] = softening_at(mobile[at], n_squared_log_ratio[at], bend[at]);
  if (mobile[at] * bend[at] > 1.0f / 3) row_bent[cell / columns] = 1;
  level[cell] = bed[cell] + depth;
  change[at] = 0;
  pad_mobile(static_cast<int>(cell / columns));
}

void Workspace::pad_mobile(int row) {
  float* first = &mobile[frame.at(0, row)];
  first[-1] = first[0];
  first[columns] = first[columns - 1];
}

void Workspace::unpack_x(const Aligned<float>& framed_faces, Field& faces) const {
  for (std::size_t j = 0; j < rows; ++j) {
    const float* row = &framed_faces[frame.at(0, static_cast<int>(j))];
    std::copy(row, row + columns + 1, faces.begin() + static_cast<std::ptrdiff_t>(j * (columns + 1)));
  }
}

void Workspace::unpack_y(const Aligned<float>& framed_faces, Field& faces) const {
  for (std::size_t j = 0; j <= rows; ++j) {
    const float* row = &framed_faces[frame.at(0, static_cast<int>(j))];
    std::copy(row, row + columns, faces.begin() + static_cast<std::ptrdiff_t>(j * columns));
  }
}

double roughness_at(double depth, double thin, double log_ratio, double height) {
  if (!(depth > 0.5 * height) || height <= 0) return thin;
  const double part = std::min((depth - 0.5 * height) / (1.5 * height), 1.0);
  return thin * std::exp(part * log_ratio);
}

} // namespace lowspot::surface
