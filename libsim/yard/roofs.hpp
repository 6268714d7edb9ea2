// Where roof water goes.
#pragma once
#include <functional>
#include <string>
#include <vector>

#include <lowspot/drain/drain.hpp>
#include <lowspot/site/site.hpp>
#include <lowspot/terrain/ground.hpp>

namespace lowspot::yard {

// One place where a roof sheds.
struct RoofDischarge {
  std::string name;       // "house, west downspout"
  double roof_area = 0;   // m2 that sheds here
  int tap = -1;           // of the drain, or -1: onto the ground
  std::vector<int> cells; // on the ground, shared evenly
};

// Of a roof without downspouts the share sheds here that the building's walls have in the yard.
// Every roof's discharge in one design (null: the yard as it is). drain may be null when the design has none.
std::vector<RoofDischarge> route_roofs(const site::Site& site, const terrain::Ground& ground,
                                       const site::Design* design, const drain::Drain* drain);

// The active cell nearest to a point, searched outward. Throws InputError naming `what` when there is none
// near.
int nearest_active_cell(const terrain::Ground& ground, const Point& at, const std::string& what);

} // namespace lowspot::yard
