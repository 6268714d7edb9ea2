// Does each shot agree with its neighbours, and where would one more shot tell most?
#pragma once
#include <string>
#include <vector>

#include <lowspot/terrain/survey.hpp>

namespace lowspot::terrain {

// For each point of the survey, its elevation minus what the plane through its neighbours in the
// triangulation says there (least squares, nearer ones weighing more) [m]. NaN on the hull, where neighbours
// stand on one side only, and on breaklines.
std::vector<double> leave_one_out(const Survey& survey, const Tin& tin);

// One sentence for each shot whose residual is far out of the line of the others: over 3 cm and over five
// times the median. Says so when reading the decimals as inches would explain it.
std::vector<std::string> suspicious_shots(const Survey& survey, const Tin& tin, const LevelBook& book,
                                          const site::Site& site);

struct NextShot {
  Point at;
  double reach = 0; // distance to the nearest point of the survey [m]
};
// The middle of the triangle inside the yard that is largest for how rough the ground around it is.
NextShot next_shot(const Survey& survey, const Tin& tin, const site::Site& site);

} // namespace lowspot::terrain
