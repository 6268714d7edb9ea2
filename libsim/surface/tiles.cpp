#include <lowspot/surface/tiles.hpp>

#include <algorithm>

#include <lowspot/surface/calm.hpp>
#include <lowspot/surface/friction.hpp>
#include <lowspot/surface/kernel.hpp>
#include <lowspot/surface/workspace.hpp>

namespace lowspot::surface {
namespace {

struct Tile {
  int i_begin = 0, i_end = 0, j_begin = 0, j_end = 0;
};

Tile tile_at(const Grid& grid, int tile_i, int tile_j) {
  const int i = tile_i * Tiles::width, j = tile_j * Tiles::height;
  return {i, std::min(i + Tiles::width, grid.nx), j, std::min(j + Tiles::height, grid.ny)};
}

// Whether some cell flows already: mostly the first one asked, while it rains.
bool flows(const Tile& tile, const Workspace& work) {
  constexpr float dry = static_cast<float>(dry_depth);
  for (int j = tile.j_begin; j < tile.j_end; ++j) {
    const float* mobile = &work.mobile[work.frame.at(tile.i_begin, j)];
    for (int k = 0; k < tile.i_end - tile.i_begin; ++k)
      if (mobile[k] > dry) return true;
  }
  return false;
}

// What is there now and may be within the horizon.
RowContent look_into(const Grid& grid, const Tile& tile, double horizon, const Field& depth,
                     const Workspace& work) {
  if (flows(tile, work)) return {true, true};
  RowContent content;
  for (int j = tile.j_begin; j < tile.j_end && !content.mobile; ++j) {
    const std::size_t at = grid.index(tile.i_begin, j);
    const RowContent row =
        content_of(&depth[at], &work.storage[at], &work.supply[at], tile.i_end - tile.i_begin, horizon);
    content.any |= row.any;
    content.mobile |= row.mobile;
  }
  return content;
}

// Whether somewhere more is supplied than the sink can take.
bool gains(const Grid& grid, const Tile& tile, const Workspace& work) {
  for (int j = tile.j_begin; j < tile.j_end; ++j)
    for (int i = tile.i_begin; i < tile.i_end; ++i)
      if (work.supply[grid.index(i, j)] > work.sink[grid.index(i, j)]) return true;
  return false;
}

bool may_skip(const Grid& grid, const Tile& tile, Skip skip, const Workspace& work) {
  if (skip == Skip::dry) return false;
  const Calm what = skip == Skip::calm ? Calm::whole : Calm::part;
  if (!is_calm(grid, tile.i_begin, tile.i_end, tile.j_begin, tile.j_end, what, work)) return false;
  return skip == Skip::calm || !gains(grid, tile, work);
}

void fill_tile(const Frame& frame, const Tile& tile, Aligned<float>& values) {
  for (int j = tile.j_begin; j < tile.j_end; ++j)
    std::fill_n(&values[frame.at(tile.i_begin, j)], tile.i_end - tile.i_begin, 0.0f);
}

// Faces belong to the cell east or north of them; the last column and row have one more.
void still_tile(const Frame& frame, const Tile& tile, Aligned<float>& q_x, Aligned<float>& q_y) {
  const int columns = tile.i_end - tile.i_begin;
  for (int j = tile.j_begin; j <= tile.j_end; ++j) {
    float *x = &q_x[frame.at(tile.i_begin, j)], *y = &q_y[frame.at(tile.i_begin, j)];
    if (j < tile.j_end) std::fill(x, x + columns + 1, 0.0f);
    std::fill(y, y + columns, 0.0f);
  }
}

// Marks as changing what holds or is given water, as moving what must be computed and the tiles around it.
void mark(const Grid& grid, double horizon, Skip skip, const Field& depth, const Workspace& work,
          Tiles& tiles) {
  for (int b = 0; b < tiles.bands; ++b)
    for (int a = 0; a < tiles.columns; ++a) {
      const Tile tile = tile_at(grid, a, b);
      const RowContent content = look_into(grid, tile, horizon, depth, work);
      if (content.any) tiles.changing[b * tiles.columns + a] = 1;
      if (!content.mobile || may_skip(grid, tile, skip, work)) continue;
      for (int nb = std::max(b - 1, 0); nb <= std::min(b + 1, tiles.bands - 1); ++nb)
        for (int na = std::max(a - 1, 0); na <= std::min(a + 1, tiles.columns - 1); ++na)
          tiles.moving[nb * tiles.columns + na] = tiles.changing[nb * tiles.columns + na] = 1;
    }
}

} // namespace

void append(std::vector<Span>& spans, int begin, int end) {
  if (!spans.empty() && spans.back().end == begin)
    spans.back().end = end;
  else
    spans.push_back({begin, end});
}

Tiles::Tiles(const Grid& grid)
    : columns((grid.nx + width - 1) / width), bands((grid.ny + height - 1) / height),
      moving(static_cast<std::size_t>(columns) * bands, 0), changing(moving), moving_spans(bands),
      changing_spans(bands), still_spans(bands) {}

bool is_all_calm(const Grid& grid, const Field& depth, const Workspace& work, const Tiles& tiles) {
  for (int b = 0; b < tiles.bands; ++b)
    for (int a = 0; a < tiles.columns; ++a) {
      const Tile tile = tile_at(grid, a, b);
      if (look_into(grid, tile, 0, depth, work).mobile && !may_skip(grid, tile, Skip::calm, work))
        return false;
    }
  return true;
}

void mark_tiles(const Grid& grid, double horizon, Skip skip, const Field& depth, Workspace& work,
                Tiles& tiles) {
  const std::vector<char> before = tiles.moving, changed = tiles.changing;
  std::fill(tiles.moving.begin(), tiles.moving.end(), 0);
  std::fill(tiles.changing.begin(), tiles.changing.end(), 0);
  mark(grid, horizon, skip, depth, work, tiles);
  tiles.moving_cells = 0;
  for (int b = 0; b < tiles.bands; ++b) {
    tiles.moving_spans[b].clear();
    tiles.changing_spans[b].clear();
    tiles.still_spans[b].clear();
    for (int a = 0; a < tiles.columns; ++a) {
      const std::size_t at = static_cast<std::size_t>(b) * tiles.columns + a;
      const Tile tile = tile_at(grid, a, b);
      if (tiles.changing[at]) append(tiles.changing_spans[b], tile.i_begin, tile.i_end);
      if (tiles.changing[at] && !tiles.moving[at]) append(tiles.still_spans[b], tile.i_begin, tile.i_end);
      if (changed[at] && !tiles.changing[at]) fill_tile(work.frame, tile, work.change);
      if (tiles.moving[at]) {
        append(tiles.moving_spans[b], tile.i_begin, tile.i_end);
        tiles.moving_cells += static_cast<double>(tile.i_end - tile.i_begin) * (tile.j_end - tile.j_begin);
      } else if (before[at]) {
        still_tile(work.frame, tile, work.q_x, work.q_y);
        still_tile(work.frame, tile, work.q_x_next, work.q_y_next);
        still_tile(work.frame, tile, work.q_x_third, work.q_y_third);
      }
    }
  }
}

} // namespace lowspot::surface
