// Swing ties: distances from two fixed corners by which a point of the works is found again with two tapes.
#pragma once
#include <string>
#include <vector>

#include <lowspot/base/geometry.hpp>
#include <lowspot/site/site.hpp>

namespace lowspot::job {

// A corner that stays put.
struct Corner {
  std::string letter; // "A"
  Point at;           // m
};
// A point of the works with its two distances.
struct Tie {
  std::string point;                  // "tee", "head of west leg"
  Point at;                           // m
  bool in_sight = true;               // of two corners; false: there is no tie
  std::size_t first = 0, second = 0;  // corners
  double to_first = 0, to_second = 0; // m
  std::string side = {}; // "left" or "right" of the line from first to second, where the tapes also meet in
                         // the yard on its other side; else empty
};

// Corners that stay put: those of the buildings, or of the outline where there is no building; at most
// `most`, lettered in order.
std::vector<Corner> fixed_corners(const site::Site& site, std::size_t most = 8);

// Outlets, fittings, inlets and free heads of a design, each tied to the two corners whose tapes cross it
// best: close to a right angle and not far away, and neither through a building. None where there are fewer
// than two corners.
std::vector<Tie> swing_ties(const site::Site& site, const site::Design& design,
                            const std::vector<Corner>& corners);

} // namespace lowspot::job
