// Low spots: where rain stands because no lower ground can be reached.
#pragma once
#include <vector>

#include <lowspot/base/geometry.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::terrain {

// A place where water stands until it spills.
struct LowSpot {
  int id = 0;              // from 1, largest volume first
  Point at;                // deepest point [m]
  double bottom = 0;       // elevation [m]
  double spill_level = 0;  // elevation [m]
  double depth = 0;        // [m]
  double area = 0;         // when full [m2]
  double volume = 0;       // when full [m3]
  Point spill_at;          // where it spills [m]
  int spills_into = -1;    // id of the low spot that receives the spill, 0: leaves the yard
  double catchment = 0;    // ground open to the sky that drains to it, itself included [m2]
  double rain_to_fill = 0; // depth of rain on its catchment that fills it, all running off [m]
  bool closed = false;     // nothing leaves it at any level: full when its highest ground is under water
  std::vector<int> cells;  // when full
};

// Low spots deeper than `least_depth` [m], over faces (four neighbours), walls and edges respected:
// an open edge face drains, a wall does not.
std::vector<LowSpot> find_low_spots(const Ground& ground, double least_depth = 0.006);

} // namespace lowspot::terrain
