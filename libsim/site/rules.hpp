// What works must keep clear of, beside the house: lines and places with a distance to keep, trees,
// utilities.
#pragma once
#include <string>
#include <vector>

#include <lowspot/base/geometry.hpp>
#include <lowspot/site/design.hpp>

namespace lowspot::site {

// A place that water or digging must stay away from; it may lie outside the yard.
struct KeepOff {
  std::string name;            // as in the site file
  std::string kind;            // "lot line", "right of way", "well", "septic field", "other"
  Polyline shape;              // a point, a line, or the corners of an outline
  bool closed = false;         // `shape` is an outline
  double distance = not_given; // m; not given: the limit of its kind
  int line = 0;                // of its table in the site file
};
// A tree whose roots works must spare.
struct Tree {
  std::string name; // as in the site file
  Point at;         // middle of the trunk [m]
  double trunk = 0; // diameter at breast height [m]
  int line = 0;     // of its table in the site file
};
// A pipe or cable in the ground.
struct Utility {
  std::string name;         // as in the site file
  Polyline path;            // m
  double depth = not_given; // of its top below the ground [m]
  double size = not_given;  // from its top to its underside: its outside diameter [m]
  int line = 0;             // of its table in the site file
};

} // namespace lowspot::site
