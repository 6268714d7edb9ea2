// Rows of floats with room around them, so that the row kernels always work on whole vectors and need no
// special case at the ends of a row.
#pragma once
#include <cstddef>

#include <lowspot/base/grid.hpp>
#include <lowspot/surface/memory.hpp>

namespace lowspot::surface {

// Where the cells and faces of a grid lie in a framed array: one row before the first, two after the last, at
// least `lead` numbers on either side of a row. Cell (i, j), its west face and its south face share an index;
// the east face of the last cell is that of the pad after it.
struct Frame {
  static constexpr int lead = 16; // numbers
  // Kernels may read and write up to this multiple of faces: pads after a row are theirs.
  static constexpr int vector = 16;

  Frame() = default;
  explicit Frame(const Grid& grid)
      : pitch((grid.nx + 1 + vector - 1) / vector * vector + lead), size(pitch * (grid.ny + 3) + lead) {
    // Rows a multiple of 4 KiB apart would fight for the same places in cache.
    constexpr std::size_t page = 4096 / sizeof(float), apart = 512 / sizeof(float);
    while (pitch % page < apart || pitch % page > page - apart) pitch += vector;
    size = pitch * (grid.ny + 3) + lead;
  }
  // The place of a cell, margins included.
  std::size_t at(int i, int j) const {
    return static_cast<std::size_t>(j + 1) * pitch + static_cast<std::size_t>(lead + i);
  }

  std::size_t pitch = 0; // numbers from one row to the next
  std::size_t size = 0;  // numbers in all
};

} // namespace lowspot::surface
