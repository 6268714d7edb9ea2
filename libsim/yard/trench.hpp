// Which cells lie over which station of a drain.
#pragma once
#include <vector>

#include <lowspot/base/field.hpp>
#include <lowspot/drain/drain.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::yard {

struct CellShare {
  int cell = 0;
  double area = 0; // of the trench on that cell [m2]
};

struct TrenchCover {
  std::vector<std::vector<CellShare>> stations; // one list a station; empty for a carrier
  std::vector<double> area;                     // of each station's trench on active cells [m2]
  Field share;                                  // of each cell that the trenches take, 0..1
};

// Lays the trench of each station over the grid, exact in area for straight pieces.
TrenchCover cover_trenches(const terrain::Ground& ground, const std::vector<drain::Station>& stations,
                           const drain::Layout& layout);

} // namespace lowspot::yard
