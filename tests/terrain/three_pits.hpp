// Three pits in a row, for the hierarchy: A (floor 0.00) and B (0.20) part at 0.50 and merge; both spill at
// 0.80 into C (0.10), which spills out to the east at 0.65. Cells of 1 m, 17 by 6, sills two cells wide.
#pragma once
#include "yards.hpp"

namespace lowspot::terrain {

inline double three_pits_elevation(int column) {
  constexpr double row[17] = {0, 0, 0, 0, 0.5, 0.5, 0.2, 0.2, 0.2, 0.8, 0.8, 0.1, 0.1, 0.1, 0.1, 0.65, 0.65};
  return row[column];
}

inline Ground three_pits() {
  Ground ground = bare_ground(17, 6, 1, [](int i, int) { return three_pits_elevation(i); });
  open_side(ground, Side::east);
  return ground;
}

} // namespace lowspot::terrain
