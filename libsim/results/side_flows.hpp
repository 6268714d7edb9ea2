// What leaves over each side of the yard: over the edge, and by the outlets that lie there; what outlets
// give.
#pragma once
#include <string>
#include <vector>

#include <lowspot/results/record.hpp>
#include <lowspot/site/site.hpp>

namespace lowspot::results {

// One side of one run.
struct SideFlow {
  std::string side;                        // "west", "east", "south", "north"; empty: outlets elsewhere
  double edge_peak = 0, edge_volume = 0;   // m3/s, m3 over the edge
  double piped_peak = 0, piped_volume = 0; // m3/s, m3 by outlets
  // The greatest flows of edge and outlets together, as if both came at the same time [m3/s].
  double peak() const { return edge_peak + piped_peak; }
  double volume() const { return edge_volume + piped_volume; } // m3
};

// What left by the outlet of that name in all [m3]; 0 where there is none.
double outlet_volume(const DesignRecord& record, const std::string& outlet);
// What ran out of all outlets [m3], on to the ground of the yard as well as beyond it; the books count as
// left only what went beyond it. What goes into a dry well soaks away there and runs out of nothing.
double volume_by_outlets(const DesignRecord& record);

// One a side that the record knows, in its order; one more for outlets that send water beyond the yard at no
// side, such as a pump whose hose ends outside. A dry well and a hose that ends in the yard send nothing
// beyond it. `design`: the works of the record; null: the yard as it is.
std::vector<SideFlow> side_flows(const site::Site& site, const site::Design* design,
                                 const DesignRecord& record, double cell);

} // namespace lowspot::results
