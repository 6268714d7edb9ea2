// Names on a map, placed so that they do not run into each other.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include <lowspot/base/geometry.hpp>
#include <lowspot/report/paint.hpp>

namespace lowspot::report {

// A rectangle on a drawing [points], y downward.
struct Rectangle {
  double x = 0, y = 0, width = 0, height = 0; // top left corner
};
double overlap(const Rectangle& a, const Rectangle& b); // area shared
// Whether the inner one lies wholly inside, borders included.
bool holds(const Rectangle& outer, const Rectangle& inner);

// What names had better not cover.
struct Obstacle {
  Rectangle box;     // on the drawing
  double weight = 1; // how much worse than covering water, which is 1
};
// Of what is drawn in ink: pipes and marks; outlines, which a halo can part for a letter or two.
constexpr double weight_of_marks = 30, weight_of_outlines = 8;
// Of what is written there already: no name is put over it.
constexpr double weight_of_words = 1000;
// Boxes of this width along a line, as obstacles.
void add_obstacles(const std::vector<Point>& line, double width, double weight,
                   std::vector<Obstacle>& obstacles);

// A name that wants a place.
struct Label {
  std::string text;                  // to be written
  TextStyle style;                   // how it is set
  Size size;                         // of the text as drawn
  std::vector<Rectangle> candidates; // the best place first
  std::vector<Point> about;          // points of what it names; empty: it stands inside it
};
// A name in its place.
struct PlacedLabel {
  std::string text;          // to be written
  TextStyle style;           // how it is set
  Rectangle at;              // where it stands
  std::vector<Point> leader; // a line from the name to what it names; empty where it stands beside it
};

// Left between two names at least; as all lengths here, in units of the drawing.
constexpr double room_between = 3;
// A name further from what it names than this gets a line to it.
constexpr double beside = 12.5;

// The box of a text with its middle at the first of these places where it keeps its distance from what is
// taken; none: it finds no place.
std::optional<Rectangle> free_room(const std::vector<Point>& middles, const Size& size,
                                   const std::vector<Rectangle>& taken);

// Places labels in order of importance: each at a candidate inside `frame` that keeps its distance from the
// labels placed before and covers no words; of these the one that covers least of `obstacles` (shares of its
// own area, by their weights), a little the earlier ones in the list. A label without such a place is left
// out.
std::vector<PlacedLabel> place_labels(const std::vector<Label>& labels, std::vector<Obstacle> obstacles,
                                      const Rectangle& frame);

// The names and their lines.
void draw_labels(cairo_t* context, const std::vector<PlacedLabel>& labels);

} // namespace lowspot::report
