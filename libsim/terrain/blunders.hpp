// Shots that look wrong: found by their neighbours, explained by the slip that would put them right.
#pragma once
#include <limits>
#include <string>
#include <vector>

#include <lowspot/site/site.hpp>
#include <lowspot/terrain/neighbours.hpp>
#include <lowspot/terrain/survey.hpp>

namespace lowspot::terrain {

// What is wrong with a shot: off its neighbours without a cause; off by a slip; x and y swapped; its point
// stands twice in the book, at two elevations.
enum class SuspicionKind { misfit, slip, swapped_place, two_elevations };

// One shot that looks wrong.
struct Suspicion {
  SuspicionKind kind = SuspicionKind::misfit; // what it looks like
  std::string name;                           // of its point
  int line = 0;                               // of the table of levels
  Point at;                                   // where the book puts it [m]
  Point mended_at;                            // where it would lie if x and y were swapped back; else `at`
  double elevation = 0;                       // as booked [m]
  double off = 0;                             // above (+) or below (-) the ground between its neighbours [m]
  std::string cause;   // in words: "two digits changed places"; empty when no slip explains it
  std::string written; // as it stands in the book
  std::string meant;   // as it would then have been written; empty when no slip explains it
  double mended_elevation = std::numeric_limits<double>::quiet_NaN(); // m, if mended so
  double off_mended = std::numeric_limits<double>::quiet_NaN();       // m, if mended so
  double usual = 0;       // how far shots near it are usually off [m]
  double evidence = 0;    // how many times further off than usual; ranks the list
  std::string other_name; // of the second shot of one point
  int other_line = 0;     // of that shot; 0: none
};

// Looks for shots that disagree with all guesses of the ground from their neighbours: from all round and from
// each of eight sides, so that a shot on the edge of a patio, a step or a swale, which agrees with those on
// its own side, is left alone. How far off is too far is measured by how far the shots near it are off
// themselves. The worst is set aside before the next is looked for, since a bad shot spoils its neighbours.
// Best evidence first. Nothing is mended. Limits: libsim/terrain/README.md.
std::vector<Suspicion> find_blunders(const Survey& survey, const LevelBook& book, const site::Site& site);

// How the point stands to its neighbours: `off` [m] by the guess that it agrees with best for its spread.
struct Misfit {
  bool known = false; // false where there are too few neighbours
  double off = 0;     // m above (+) or below (-) the guess
  double spread = 1;  // Guess::spread of that guess
};
// Against the guess of the ground that fits best for its spread.
Misfit misfit_of(const std::vector<Guess>& guesses, double z);

} // namespace lowspot::terrain
