// The grid with a rim of one empty cell all round, so that one flat loop reaches every neighbour unasked.
#pragma once
#include <cstddef>
#include <span>

#include <lowspot/base/field.hpp>
#include <lowspot/base/grid.hpp>

namespace lowspot::perched {

// Cell (i, j) has index (j + 1) * stride + i + 1. A face array holds at k the face between k and its eastern
// (k + 1) or northern (k + stride) neighbour.
struct Frame {
  int nx = 0;                // columns of the grid
  int ny = 0;                // rows of the grid
  std::ptrdiff_t stride = 0; // from a cell to the one north of it

  std::ptrdiff_t size() const { return stride * (ny + 2); }
  std::ptrdiff_t first() const { return stride; }         // flat loops run from here
  std::ptrdiff_t last() const { return size() - stride; } // to here, the rim at their sides holding zeros
  std::ptrdiff_t index(int i, int j) const { return (j + 1) * stride + i + 1; }
};

// A grid with one cell of margin on each side; the place of a grid's cell in it.
inline Frame make_frame(int nx, int ny) {
  return {nx, ny, static_cast<std::ptrdiff_t>(nx) + 2};
}
// The place of a cell of the grid in the frame.
inline std::ptrdiff_t framed(const Frame& frame, std::size_t cell) {
  return frame.index(static_cast<int>(cell % frame.nx), static_cast<int>(cell / frame.nx));
}

// Copies one value a cell into the frame; the rim is left as it is.
inline void pack(const Frame& frame, std::span<const double> cells, Field& into) {
  for (int j = 0; j < frame.ny; ++j)
    for (int i = 0; i < frame.nx; ++i)
      into[frame.index(i, j)] = cells[static_cast<std::size_t>(j) * frame.nx + i];
}

} // namespace lowspot::perched
