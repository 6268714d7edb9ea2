// Everything a crew wants to know of its levels: the book reduced, what looks wrong, what is still in doubt.
#pragma once
#include <vector>

#include <lowspot/terrain/doubt.hpp>
#include <lowspot/terrain/ground.hpp>
#include <lowspot/terrain/survey_check.hpp>

namespace lowspot::terrain {

// A set of levels with what was found in it.
struct LevelReview {
  LevelBook book;                    // as reduced
  Survey survey;                     // its points and the breaklines
  Tin tin;                           // their triangulation
  std::vector<double> leave_one_out; // by point of the survey [m]; on a raster: of the difference from it
  BookCheck check;                   // what looks wrong
  Ground ground;                     // made of them
  Field doubt;                       // m; NaN where there is no ground
  std::vector<NextShot> next;        // where further shots would tell most
  std::vector<std::string> other_warnings; // of the ground, without those that `check` and the closures say
  double low_spot_volume = 0;              // of the ground as it is [m3]
};

// Reads the levels of a site and looks at them. `cell` as in build_ground; when it is not a number, small
// enough for low spots and coarse enough to be quick (10 000 cells). Throws InputError when the site names no
// levels, and as build_ground.
LevelReview review_levels(const site::Site& site, double cell = site::not_given);

} // namespace lowspot::terrain
