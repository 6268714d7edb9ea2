// Which cells lie over which station of a drain.
#pragma once
#include <vector>

#include <lowspot/base/field.hpp>
#include <lowspot/drain/drain.hpp>
#include <lowspot/perched/perched.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::yard {

// The part of a trench that lies on one cell.
struct CellShare {
  int cell = 0;    // index in the grid
  double area = 0; // of the station's own stone on that cell [m2], see drain::plan_of()
};

// All trenches of a drain on the grid.
struct TrenchCover {
  std::vector<std::vector<CellShare>> stations; // one list a station; empty for a carrier
  std::vector<double> area;                     // of each station's trench on active cells [m2]
  Field share;                                  // of each cell that the trenches take, 0..1
};

// Lays the trench of each station over the grid, exact in area.
TrenchCover cover_trenches(const terrain::Ground& ground, const std::vector<drain::Station>& stations,
                           const drain::Layout& layout);

// Where a trench wall meets the soil: the column in which it stands, and the next one out. The own column
// trades over half a cell, and the next one directly with so much of its conductance that from its middle to
// the wall, by both ways, the resistance is that of the soil between, wherever in its cell the wall stands;
// with all of it where the trench has cut the way through the own column.
struct WallContact {
  int station = 0;     // index in Drain::stations()
  int cell = 0;        // index in the grid
  double share = 0;    // of both walls of the station that trade with this column, 0..1
  double distance = 0; // over which they do [m], half a cell at least
  double fabric = 0;   // share of the fabric of both walls that this water passes, 0..1
};
// Walls against buildings, beyond the yard, in a pit or in another trench have no contact.
std::vector<WallContact> find_wall_contacts(const terrain::Ground& ground,
                                            const std::vector<drain::Station>& stations,
                                            const drain::Layout& layout, const perched::Layer& layer);

} // namespace lowspot::yard
