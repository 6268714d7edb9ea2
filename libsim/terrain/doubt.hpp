// How well the shots know the ground between them, and where one more would change the low spots most.
#pragma once
#include <vector>

#include <lowspot/base/field.hpp>
#include <lowspot/terrain/ground.hpp>
#include <lowspot/terrain/neighbours.hpp>
#include <lowspot/terrain/survey.hpp>

namespace lowspot::terrain {

// The ground is doubtful in proportion to the distance from the nearest shot, at the rate at which the shots
// near by are themselves wrong when left out: root of the mean square of error / distance over the eight
// nearest that have an error; 2 % where none has. Never under a rod reading, 3 mm.
class Doubt {
public:
  // error: as leave_one_out; lines in `bad` do not count.
  Doubt(const Survey& survey, const std::vector<double>& error, const std::vector<int>& bad);
  double at(const Point& place) const; // m
  // Distance to the nearest point of the survey [m].
  double reach(const Point& place) const;
  Field on(const Grid& grid, const Mask& active) const; // NaN where not active

private:
  const Survey& survey_;
  Neighbours neighbours_;
  std::vector<char> none_, unrated_;
  std::vector<double> rate_; // error / distance, by point
};

// A place where one more shot would tell most.
struct NextShot {
  Point at;                 // m
  double doubt = 0;         // of the ground there [m]
  double reach = 0;         // distance to the nearest point of the survey [m]
  double volume_change = 0; // of all low spots together, if the ground there is off by its doubt [m3]
};

// Tries the middles of the triangles that are largest for their doubt: the ground is raised and lowered there
// by its doubt, sloping to nothing at the points that a shot there would be joined to, and the volume of all
// low spots is found again. Returns at most `count`, the greatest change first, none within a quarter of the
// yard's width of one before it unless nothing else is left. Slabs with shots of their own stay as they are.
std::vector<NextShot> next_shots(const Ground& ground, const Survey& survey, const Tin& tin,
                                 const Doubt& doubt, const site::Site& site, std::size_t count);

// Volume of all low spots when full [m3].
double low_spot_volume(const Ground& ground);

} // namespace lowspot::terrain
