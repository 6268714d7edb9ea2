// The points that carry the ground's shape: shots and breaklines.
#pragma once
#include <array>
#include <functional>
#include <string>
#include <vector>

#include <lowspot/site/site.hpp>
#include <lowspot/terrain/levels.hpp>
#include <lowspot/terrain/tin.hpp>

namespace lowspot::terrain {

// Shots and breakline points on one place merged, so that no two stand within 1 cm of each other.
struct SurveyPoint {
  std::string name;  // of the shot; empty on a breakline
  Point3 at;         // m
  int line = 0;      // in the levels file, 0 on a breakline
  bool shot = false; // false: on a breakline
};

// Points and the lines between them that the ground follows.
struct Survey {
  std::vector<SurveyPoint> points;       // each on a place of its own
  std::vector<std::array<int, 2>> edges; // pieces of breaklines, between points
  std::string file;                      // of the levels, or the site file
  std::vector<Polygon> buildings;        // outlines, through which no shot says anything of another [m]
  std::vector<std::string> warnings;     // sentences
};

// Shots of the book (may be empty) and the corners of breaklines with the edges between them. Two shots on
// one place are averaged, with a warning where they differ by more than 5 cm. Throws InputError when there
// are fewer than three points, all lie on one line, or none lies near the outline.
Survey gather_survey(const LevelBook& book, const site::Site& site);

// Those of its points that are wanted, with the edges between them; `from` (optional) gets the place of each
// in the whole.
Survey points_that(const Survey& survey, const std::function<bool(const SurveyPoint&)>& wanted,
                   std::vector<std::size_t>* from = nullptr);
// Of all its points [m].
std::vector<Point3> places(const Survey& survey);
// The triangulation of its points that follows its edges.
Tin triangulate(const Survey& survey);

} // namespace lowspot::terrain
