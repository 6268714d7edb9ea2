// Names on a map, placed so that they do not run into each other.
#pragma once
#include <string>
#include <vector>

#include <lowspot/report/paint.hpp>

namespace lowspot::report {

// A rectangle on a drawing [points], y downward.
struct Rectangle {
  double x = 0, y = 0, width = 0, height = 0; // top left corner
};
double overlap(const Rectangle& a, const Rectangle& b); // area shared
// Whether the inner one lies wholly inside, borders included.
bool holds(const Rectangle& outer, const Rectangle& inner);

// A name that wants a place.
struct Label {
  std::string text;                  // to be written
  TextStyle style;                   // how it is set
  Size size;                         // of the text as drawn
  std::vector<Rectangle> candidates; // the best place first
};
// A name in its place.
struct PlacedLabel {
  std::string text; // to be written
  TextStyle style;  // how it is set
  Rectangle at;     // where it stands
};

// Left between two names at least; as all lengths here, in units of the drawing.
constexpr double room_between = 3;

// Places labels in order of importance: each at the first candidate inside `frame` that keeps its distance
// from the labels placed before and covers the least of `obstacles`. A label without such a place is left
// out.
std::vector<PlacedLabel> place_labels(const std::vector<Label>& labels,
                                      const std::vector<Rectangle>& obstacles, const Rectangle& frame);

} // namespace lowspot::report
