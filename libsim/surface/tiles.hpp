// Which parts of the grid have water that may move: dry tiles cost nothing.
#pragma once
#include <vector>

#include <lowspot/base/field.hpp>
#include <lowspot/base/grid.hpp>

namespace lowspot::surface {

struct Workspace;

// Columns [begin, end) of a row.
struct Span {
  int begin = 0; // first column
  int end = 0;   // one beyond the last
};

// Adds columns to a list of spans in rising order.
void append(std::vector<Span>& spans, int begin, int end);

// Whether tiles with calm water may be skipped: none, those that gain none, or all.
enum class Skip { dry, calm_without_gain, calm };

// Tiles of `width` by `height` cells. A tile moves when it or one of the eight around it has mobile water now
// or may have within the next `steps_valid` steps; since water spreads one cell a step, skipping all others
// changes nothing at all.
struct Tiles {
  // All still.
  explicit Tiles(const Grid& grid);

  static constexpr int width = 32;                             // cells
  static constexpr int height = 8;                             // cells
  static constexpr int steps_valid = 8;                        // before tiles are marked anew
  int columns = 0;                                             // of tiles
  int bands = 0;                                               // rows of tiles
  std::vector<char> moving;                                    // 1: faces are computed
  std::vector<char> changing;                                  // 1: moving, or holds or is given water
  std::vector<std::vector<Span>> moving_spans, changing_spans; // one list a band
  std::vector<std::vector<Span>> still_spans;                  // those that change and do not move
  double moving_cells = 0;                                     // number of cells in moving tiles

  // Whether water may move in the tile of a cell.
  bool moves(int i, int j) const {
    return moving[static_cast<std::size_t>(j / height) * columns + i / width];
  }

  const std::vector<Span>& moving_in(int row) const { return moving_spans[row / height]; }
  const std::vector<Span>& changing_in(int row) const { return changing_spans[row / height]; }
  const std::vector<Span>& still_in(int row) const { return still_spans[row / height]; }
};

// Whether all mobile water is calm, with nothing changed by the look.
bool is_all_calm(const Grid& grid, const Field& depth, const Workspace& work, const Tiles& tiles);

// Marks the tiles anew for a stretch of steps that lasts at most `horizon` seconds. Discharges in tiles that
// come to rest are set to zero.
void mark_tiles(const Grid& grid, double horizon, Skip skip, const Field& depth, Workspace& work,
                Tiles& tiles);

} // namespace lowspot::surface
