// Bare ground as a view of plain arrays: all that the shape of the ground says about water.
#pragma once
#include <span>

#include <lowspot/base/field.hpp>
#include <lowspot/base/grid.hpp>

namespace lowspot::relief {

// A face of an active cell at the limit of the ground over which water leaves.
// side: 0 west, 1 east, 2 south, 3 north.
struct OpenFace {
  int cell = 0; // index in the grid
  int side = 0; // as above
};

// The arrays are not copied and must outlive the view.
struct Relief {
  Grid grid;                            // where the cells lie
  std::span<const std::uint8_t> active; // one a cell
  std::span<const double> elevation;    // m, one a cell
  std::span<const double> crest_x;      // m elevation of walls on faces, minus infinity where there is none;
  std::span<const double> crest_y;      // both may be empty: no walls at all
  std::span<const OpenFace> open_faces; // faces over which water leaves; any others at the limit are closed
};

} // namespace lowspot::relief
