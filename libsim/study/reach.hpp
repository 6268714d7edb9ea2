// The way of least digging by which a pipe reaches an outlet by gravity.
#pragma once
#include <optional>
#include <vector>

#include <lowspot/study/diagnosis.hpp>
#include <lowspot/study/pipe_profile.hpp>

namespace lowspot::study {

// Where a pipe may end.
struct ReachEnd {
  Point at;         // middle of an open cell
  double level = 0; // elevation that the invert must reach [m]
};

// The way that was found.
struct ReachWay {
  Reach reach = Reach::shut_in; // how it fares
  std::size_t end = 0;          // in the list of ends
  Polyline way;                 // empty when shut in
  PipeProfile profile;          // of the pipe along it
};

// One way from `start` (the middle of an open cell) to the best of the ends of each group: of those in reach
// the one with the least cost; where none is, the one that misses by least, and why.
//
// How: a label is a cell, the invert there and what was dug to get there. Labels are taken up by rising cost
// (Dijkstra 1959); one is kept only when its invert is higher than that of every cheaper label of its cell by
// more than a millimetre, since a pipe that comes in higher can do all that a lower one can (Pareto labels,
// Hansen 1980). Steps go to 16 neighbours; straight lines and some with one corner are tried as well. The
// ways found are then straightened where that makes them no dearer, and their corners and ends moved as long
// as that gains half a per cent. What reaches no outlet is answered by a second search for the highest
// invert, which is exact on the steps because an invert only ever falls.
std::vector<ReachWay> find_ways(const ReachGround& ground, const site::ReachRules& rules, const Point& start,
                                double start_invert, const std::vector<std::vector<ReachEnd>>& groups);

} // namespace lowspot::study
