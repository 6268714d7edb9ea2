#include <lowspot/surface/tiles.hpp>

#include <algorithm>

#include <lowspot/surface/friction.hpp>
#include <lowspot/surface/workspace.hpp>

namespace lowspot::surface {
namespace {

struct Content {
  bool mobile = false;
  bool any = false;
};

Content content_of(const Grid& grid, int tile_i, int tile_j, double horizon, const Field& depth,
                   const Workspace& work) {
  const int i_end = std::min((tile_i + 1) * Tiles::width, grid.nx);
  const int j_end = std::min((tile_j + 1) * Tiles::height, grid.ny);
  Content content;
  for (int j = tile_j * Tiles::height; j < j_end; ++j) {
    const std::size_t row = grid.index(0, j);
    for (int i = tile_i * Tiles::width; i < i_end; ++i) {
      const double most = depth[row + i] + work.supply[row + i] * horizon;
      content.any |= most > 0;
      content.mobile |= most - work.storage[row + i] > dry_depth;
    }
    if (content.mobile) return content;
  }
  return content;
}

void append(std::vector<Span>& spans, int begin, int end) {
  if (!spans.empty() && spans.back().end == begin)
    spans.back().end = end;
  else
    spans.push_back({begin, end});
}

// Faces belong to the cell east or north of them; the last column and row have one more.
void still_tile(const Grid& grid, int tile_i, int tile_j, Field& q_x, Field& q_y) {
  const int i_begin = tile_i * Tiles::width, i_end = std::min(i_begin + Tiles::width, grid.nx);
  const int j_begin = tile_j * Tiles::height, j_end = std::min(j_begin + Tiles::height, grid.ny);
  for (int j = j_begin; j < j_end; ++j)
    std::fill(q_x.begin() + grid.x_face(i_begin, j), q_x.begin() + grid.x_face(i_end, j) + 1, 0.0);
  for (int j = j_begin; j <= j_end; ++j)
    std::fill(q_y.begin() + grid.y_face(i_begin, j), q_y.begin() + grid.y_face(i_end, j), 0.0);
}

} // namespace

Tiles::Tiles(const Grid& grid)
    : columns((grid.nx + width - 1) / width), bands((grid.ny + height - 1) / height),
      moving(static_cast<std::size_t>(columns) * bands, 0), changing(moving), moving_spans(bands),
      changing_spans(bands) {}

void mark_tiles(const Grid& grid, double horizon, const Field& depth, Field& q_x, Field& q_y, Workspace& work,
                Tiles& tiles) {
  const std::vector<char> before = tiles.moving;
  std::fill(tiles.moving.begin(), tiles.moving.end(), 0);
  std::fill(tiles.changing.begin(), tiles.changing.end(), 0);
  for (int b = 0; b < tiles.bands; ++b)
    for (int a = 0; a < tiles.columns; ++a) {
      const Content content = content_of(grid, a, b, horizon, depth, work);
      if (content.any) tiles.changing[b * tiles.columns + a] = 1;
      if (!content.mobile) continue;
      for (int nb = std::max(b - 1, 0); nb <= std::min(b + 1, tiles.bands - 1); ++nb)
        for (int na = std::max(a - 1, 0); na <= std::min(a + 1, tiles.columns - 1); ++na)
          tiles.moving[nb * tiles.columns + na] = tiles.changing[nb * tiles.columns + na] = 1;
    }
  tiles.moving_cells = 0;
  for (int b = 0; b < tiles.bands; ++b) {
    tiles.moving_spans[b].clear();
    tiles.changing_spans[b].clear();
    for (int a = 0; a < tiles.columns; ++a) {
      const std::size_t tile = static_cast<std::size_t>(b) * tiles.columns + a;
      const int begin = a * Tiles::width, end = std::min(begin + Tiles::width, grid.nx);
      if (tiles.changing[tile]) append(tiles.changing_spans[b], begin, end);
      if (tiles.moving[tile]) {
        append(tiles.moving_spans[b], begin, end);
        tiles.moving_cells += static_cast<double>(end - begin) * Tiles::height;
      } else if (before[tile]) {
        still_tile(grid, a, b, q_x, q_y);
        still_tile(grid, a, b, work.q_x_next, work.q_y_next);
      }
    }
  }
}

} // namespace lowspot::surface
